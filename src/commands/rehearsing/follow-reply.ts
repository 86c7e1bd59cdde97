import { CommandFailure } from "../command-line/exit-codes.ts";
import { followRun, type RunOrder } from "./rehearsed-run.ts";
import type { RunReply } from "./run-reply.ts";

/** Follows the run that begins with an input; an input that cannot be opened is a reply, too. */
export async function replyTo(
  order: RunOrder,
  first: number,
  stopped: AbortSignal,
  onReach: (bytes: number) => void,
): Promise<RunReply> {
  try {
    return { kind: "report", report: await followRun(order, first, stopped, onReach) };
  } catch (error) {
    if (error instanceof CommandFailure) return { kind: "refused", first, message: error.message };
    throw error;
  }
}
