/// <reference lib="deno.worker" />
import { CommandFailure } from "../command-line/exit-codes.ts";
import { followRun, type RunOrder } from "./rehearsed-run.ts";
import type { WorkerReply, WorkerRequest } from "./messages.ts";

/** One thread of a rehearsal: told the order once, it follows the runs that it is asked for. */
let order: RunOrder | undefined;

self.onmessage = async ({ data }: MessageEvent<WorkerRequest>) => {
  if (data.kind === "order") {
    order = data.order;
    return;
  }
  if (order === undefined) throw new TypeError("no order was given");
  self.postMessage(await replyTo(order, data.first));
};

async function replyTo(given: RunOrder, first: number): Promise<WorkerReply> {
  try {
    const report = await followRun(given, first, new AbortController().signal);
    return { kind: "report", report };
  } catch (error) {
    if (error instanceof CommandFailure) return { kind: "refused", first, message: error.message };
    throw error;
  }
}
