import { isoTime } from "../../../ground/time.ts";
import type { PushPayload } from "../../../ground/push-payload.ts";
import type { PhoneMessage } from "../way.ts";
import { headAndRest } from "./message-head.ts";

/**
 * Bytes of text in one push message: a push service need not take more than 4,096 in all (RFC 8030,
 * section 7.2), of which encryption needs 103 (RFC 8291, section 4).
 */
export const PUSH_TEXT_BYTES = 3_993;

/** What a service worker is given, as JSON that fits; a longer text ends at a sentence with "…". */
export function pushText(message: PhoneMessage): string {
  const { head, rest } = headAndRest(message);
  const whole: PushPayload = {
    title: head,
    body: rest,
    tag: message.key,
    actions: message.answers.map(({ action, words, address }) => ({
      action,
      title: words,
      url: address,
    })),
    time: isoTime(message.time, 3),
  };
  // What is wrong goes before the buttons, which the page has too.
  const payload = bytesOf({ ...whole, body: "" }) > PUSH_TEXT_BYTES / 2
    ? { ...whole, actions: [] }
    : whole;
  if (bytesOf(payload) <= PUSH_TEXT_BYTES) return JSON.stringify(payload);
  return JSON.stringify({ ...payload, body: cutToFit(payload) });
}

/** At the last sentence that fits, or the last word, or wherever it must be. */
function cutToFit(payload: PushPayload): string {
  const characters = [...payload.body];
  const cutAt = (count: number) => `${characters.slice(0, count).join("").trimEnd()} …`;
  let [fits, tooMany] = [0, characters.length];
  while (tooMany - fits > 1) {
    const middle = Math.floor((fits + tooMany) / 2);
    if (bytesOf({ ...payload, body: cutAt(middle) }) <= PUSH_TEXT_BYTES) fits = middle;
    else tooMany = middle;
  }
  const rest = characters.slice(0, fits).join("");
  const sentences = /^.*[.!?](?=\s)/s.exec(rest)?.[0];
  const words = /^.*\S(?=\s)/s.exec(rest)?.[0];
  return `${sentences ?? words ?? rest} …`;
}

function bytesOf(payload: PushPayload): number {
  return new TextEncoder().encode(JSON.stringify(payload)).length;
}
