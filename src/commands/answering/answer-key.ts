import { randomBytes } from "node:crypto";
import { join } from "node:path";
import { ANSWER_KEY_BYTES } from "../../alarms/answer-token.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";

const FILE = "answer-key";

/**
 * The key by which this program knows the links that it made, from the state folder; made at the
 * first start, and readable by nobody else. Without a folder, links end with the program.
 * @param state whole path of the state folder, which exists
 * @throws {CommandFailure} where it cannot be read or kept
 */
export async function keptAnswerKey(state: string | undefined): Promise<Uint8Array> {
  if (state === undefined) return randomBytes(ANSWER_KEY_BYTES);
  const file = join(state, FILE);
  try {
    return await readOrMake(file);
  } catch (error) {
    if (error instanceof CommandFailure) throw error;
    const reason = error instanceof Error ? error.message : String(error);
    throw new CommandFailure(`The key of answers, ${file}, cannot be used: ${reason}.`);
  }
}

async function readOrMake(file: string): Promise<Uint8Array> {
  try {
    const key = await Deno.readFile(file);
    if (key.length === ANSWER_KEY_BYTES) return key;
    throw new CommandFailure(
      `The key of answers, ${file}, has ${key.length} bytes and should have ${ANSWER_KEY_BYTES}. ` +
        `Delete it; a new one is made, and links of earlier messages no longer hold.`,
    );
  } catch (error) {
    if (!(error instanceof Deno.errors.NotFound)) throw error;
  }
  // Whole under another name first: a power cut must not leave half a key.
  const key = randomBytes(ANSWER_KEY_BYTES);
  const draft = `${file}.draft`;
  await Deno.writeFile(draft, key, { mode: 0o600 });
  await Deno.rename(draft, file);
  return key;
}
