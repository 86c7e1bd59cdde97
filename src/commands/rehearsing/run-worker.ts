/// <reference lib="deno.worker" />
import type { Asked, Told } from "./asked-thread.ts";
import { replyTo } from "./follow-reply.ts";
import type { RunOrder } from "./rehearsed-run.ts";
import type { RunReply } from "./run-reply.ts";

/** One thread of a rehearsal: told the order once, it follows the runs that it is asked for. */
let order: RunOrder | undefined;
/** Nobody stops a run here: the whole thread is ended. */
const { signal } = new AbortController();

self.onmessage = async ({ data }: MessageEvent<Asked<RunOrder, number>>) => {
  if ("order" in data) order = data.order;
  else if (order === undefined) throw new TypeError("no order was given");
  else tell({ reply: await replyTo(order, data.question, signal, (reached) => tell({ reached })) });
};

function tell(told: Told<RunReply>): void {
  self.postMessage(told);
}
