import { resolve } from "node:path";
import { MemoryStore } from "../../store/memory-store.ts";
import { type Store, StoreError } from "../../store/store.ts";
import { openStore } from "../../store/worker-store.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";

/**
 * The store in the state folder, or one that lasts as long as the program where none is named.
 * @param onFailing told when it cannot be written, and when it can again
 * @throws {CommandFailure} where the folder cannot be used
 */
export async function openStateFolder(
  state: string | undefined,
  folder: string,
  say: (sentence: string) => void,
  onFailing: (isFailing: boolean) => void = () => {},
): Promise<Store> {
  if (state === undefined) return new MemoryStore(crypto.randomUUID().replaceAll("-", ""));
  try {
    return await openStore(resolve(folder, state), {
      onTrouble(trouble) {
        onFailing(trouble !== null);
        say(trouble ?? "The state folder can be written again.");
      },
      random: Math.random,
    });
  } catch (error) {
    if (error instanceof StoreError) throw new CommandFailure(error.message);
    throw error;
  }
}
