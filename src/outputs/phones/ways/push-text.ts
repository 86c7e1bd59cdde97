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
  let body = payload.body;
  while (body !== "" && bytesOf({ ...payload, body: `${body} …` }) > PUSH_TEXT_BYTES) {
    body = shorter(body);
  }
  return JSON.stringify({ ...payload, body: `${body} …` });
}

/** Without its last sentence; a single one without its last word or, at last, its second half. */
function shorter(text: string): string {
  const end = Math.max(...[...text.matchAll(/[.!?]\s+(?=\S)/g)].map(({ index }) => index + 1), 0);
  if (end > 0) return text.slice(0, end);
  const word = text.search(/\s+\S+$/);
  if (word > 0) return text.slice(0, word);
  return [...text].slice(0, Math.floor([...text].length / 2)).join("");
}

function bytesOf(payload: PushPayload): number {
  return new TextEncoder().encode(JSON.stringify(payload)).length;
}
