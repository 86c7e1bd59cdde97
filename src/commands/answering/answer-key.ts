import { randomBytes } from "node:crypto";
import { ANSWER_KEY_BYTES } from "../../alarms/answer-token.ts";
import { keptKey } from "../kept-key.ts";

/**
 * The key by which this program knows the links that it made. Without a state folder, links end with
 * the program.
 * @param state whole path of the state folder, which exists
 * @throws {CommandFailure} where it cannot be read or kept
 */
export function keptAnswerKey(state: string | undefined): Promise<Uint8Array> {
  return keptKey(state, {
    file: "answer-key",
    bytes: ANSWER_KEY_BYTES,
    make: () => randomBytes(ANSWER_KEY_BYTES),
    words: "The key of answers",
    lost: "links of earlier messages no longer hold",
  });
}
