import { join } from "node:path";
import { z } from "zod";
import {
  type KeptSubscription,
  keptSubscriptionSchema,
} from "../../outputs/phones/ways/push-subscription.ts";

z.config({ jitless: true });

/**
 * Which devices asked to be told, in a file of the state folder that nobody else can read. Not in the
 * database beside it, which the program that watches has for itself: `hail` must know them too.
 */
export class PushDeviceFile {
  readonly #path: string;
  #written: Promise<void> = Promise.resolve();

  /** @param state whole path of the state folder, which exists */
  constructor(state: string) {
    this.#path = join(state, "push-devices");
  }

  /** What cannot be read as a device is left out. @throws {Deno.errors.PermissionDenied} */
  async read(): Promise<KeptSubscription[]> {
    try {
      const lines = (await Deno.readTextFile(this.#path)).split("\n");
      return lines.map(subscriptionIn).filter((kept) => kept !== undefined);
    } catch (error) {
      if (error instanceof Deno.errors.NotFound) return [];
      throw error;
    }
  }

  /** In the order of the calls; whole under another name first, for a power cut. */
  write(kept: readonly KeptSubscription[]): Promise<void> {
    const text = kept.map((one) => `${JSON.stringify(one)}\n`).join("");
    const writing = this.#written.then(async () => {
      const draft = `${this.#path}.draft`;
      await Deno.writeTextFile(draft, text, { mode: 0o600 });
      await Deno.rename(draft, this.#path);
    });
    this.#written = writing.catch(() => {});
    return writing;
  }
}

function subscriptionIn(line: string): KeptSubscription | undefined {
  try {
    return keptSubscriptionSchema.safeParse(JSON.parse(line)).data;
  } catch {
    return undefined;
  }
}
