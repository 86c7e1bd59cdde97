/// <reference lib="deno.worker" />
import { CommandFailure } from "../command-line/exit-codes.ts";
import type { Asked, Told } from "./asked-thread.ts";
import { followRun, type RunOrder } from "./rehearsed-run.ts";
import type { RunReply } from "./run-reply.ts";

/** One thread of a rehearsal: told the order once, it follows the runs that it is asked for. */
let order: RunOrder | undefined;

self.onmessage = async ({ data }: MessageEvent<Asked<RunOrder, number>>) => {
  if ("order" in data) order = data.order;
  else if (order === undefined) throw new TypeError("no order was given");
  else tell({ reply: await replyTo(order, data.question) });
};

function tell(told: Told<RunReply>): void {
  self.postMessage(told);
}

async function replyTo(given: RunOrder, first: number): Promise<RunReply> {
  try {
    const report = await followRun(
      given,
      first,
      new AbortController().signal,
      (reached) => tell({ reached }),
    );
    return { kind: "report", report };
  } catch (error) {
    if (error instanceof CommandFailure) return { kind: "refused", first, message: error.message };
    throw error;
  }
}
