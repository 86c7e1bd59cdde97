import { join } from "node:path";
import { CommandFailure } from "./command-line/exit-codes.ts";

export interface KeptKey {
  /** Its name in the state folder. */
  readonly file: string;
  readonly bytes: number;
  readonly make: () => Uint8Array;
  /** "The key of answers" */
  readonly words: string;
  /** What is lost when it is made anew, as a clause. */
  readonly lost: string;
}

/**
 * A secret key of this program's own from the state folder; made at the first start, and readable by
 * nobody else. Without a folder it ends with the program.
 * @param state whole path of the state folder, which exists
 * @throws {CommandFailure} where it cannot be read or kept
 */
export async function keptKey(state: string | undefined, key: KeptKey): Promise<Uint8Array> {
  if (state === undefined) return key.make();
  const file = join(state, key.file);
  try {
    return await readOrMake(file, key);
  } catch (error) {
    if (error instanceof CommandFailure) throw error;
    const reason = error instanceof Error ? error.message : String(error);
    throw new CommandFailure(`${key.words}, ${file}, cannot be used: ${reason}.`);
  }
}

async function readOrMake(file: string, { bytes, make, words, lost }: KeptKey) {
  try {
    const kept = await Deno.readFile(file);
    if (kept.length === bytes) return kept;
    throw new CommandFailure(
      `${words}, ${file}, has ${kept.length} bytes and should have ${bytes}. ` +
        `Delete it; a new one is made, and ${lost}.`,
    );
  } catch (error) {
    if (!(error instanceof Deno.errors.NotFound)) throw error;
  }
  // Whole under another name first: a power cut must not leave half a key.
  const made = make();
  const draft = `${file}.draft`;
  await Deno.writeFile(draft, made, { mode: 0o600 });
  await Deno.rename(draft, file);
  return made;
}
