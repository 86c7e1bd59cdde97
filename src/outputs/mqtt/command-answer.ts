import { isoTime, type Micros } from "../../ground/time.ts";
import { happened, type Outgoing } from "./outgoing.ts";

/** Where an MQTT 5 sender wants its answer. */
export interface ReplyWish {
  readonly topic: string;
  readonly correlation?: Uint8Array;
}

/** `from` and `to`: what `resend` will really bring; nothing before `from` will ever come. */
export type CommandOutcome =
  | { readonly accepted: true; readonly from?: number; readonly to?: number }
  | { readonly accepted: false; readonly refused: string; readonly from?: number };

/**
 * The answer to one command: on `command-answer/ID` where the command had an id, and on the response
 * topic where its sender gave one.
 */
export function commandAnswers(
  id: string | null,
  outcome: CommandOutcome,
  wish: ReplyWish | null,
  base: string,
  wall: Micros,
): Outgoing[] {
  const time = isoTime(wall, 3);
  const payload = JSON.stringify({ id, ...outcome, time });
  const answers: Outgoing[] = [];
  if (id !== null) answers.push(happened(`command-answer/${id}`, payload));
  if (wish !== null && mayAnswerOn(wish.topic, base)) {
    const { topic, correlation } = wish;
    answers.push({ ...happened(topic, payload), absolute: true, correlation });
  }
  return answers;
}

/** A sender must not make us write over the boat's own topics. */
function mayAnswerOn(topic: string, base: string): boolean {
  if (topic === "" || topic.startsWith("$")) return false;
  if (["#", "+", "\0"].some((sign) => topic.includes(sign))) return false;
  return !topic.startsWith(base) || topic.startsWith(`${base}command-answer/`);
}
