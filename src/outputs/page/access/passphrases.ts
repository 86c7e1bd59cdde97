import { type BinaryLike, randomBytes, scrypt, timingSafeEqual } from "node:crypto";
import type { Buffer } from "node:buffer";
import type { Role } from "./role.ts";

/** Shorter ones are found by guessing, even slowly. */
export const SHORTEST_PASSPHRASE = 12;
/** Nobody types more, and nobody is to make this computer hash a book. */
export const LONGEST_PASSPHRASE = 200;

/** RFC 7914; the cost is that of OWASP's Password Storage Cheat Sheet, its row of 32 MiB. */
const COST = { N: 2 ** 15, r: 8, p: 3, maxmem: 64 * 2 ** 20 };
const LENGTH = 32;

/** What the owner has set; each by role. */
export interface PassphraseTexts {
  readonly act: string;
  readonly watch?: string;
}

/**
 * The passphrases of the page, as hashes with a salt made at each start. The texts are not kept.
 */
export class Passphrases {
  readonly #salt = randomBytes(16);
  readonly #hashes = new Map<Role, Buffer>();
  /** One guess at a time: each takes 32 MiB. */
  #judging: Promise<unknown> = Promise.resolve();

  static async of({ act, watch }: PassphraseTexts): Promise<Passphrases> {
    const passphrases = new Passphrases();
    await passphrases.#set("act", act);
    if (watch !== undefined) await passphrases.#set("watch", watch);
    return passphrases;
  }

  /** What a passphrase lets its bearer do; undefined where it is wrong. Takes as long either way. */
  async roleOf(given: string): Promise<Role | undefined> {
    if (given.length > LONGEST_PASSPHRASE) return undefined;
    const judged = this.#judging.then(() => hashOf(given, this.#salt));
    this.#judging = judged.catch(() => {});
    const hash = await judged;
    let found: Role | undefined;
    for (const [role, right] of this.#hashes) if (timingSafeEqual(hash, right)) found ??= role;
    return found;
  }

  async #set(role: Role, text: string): Promise<void> {
    this.#hashes.set(role, await hashOf(text, this.#salt));
  }
}

/** The same letters typed on another keyboard are the same passphrase. */
function hashOf(text: string, salt: BinaryLike): Promise<Buffer> {
  return new Promise((resolve, reject) =>
    scrypt(text.normalize("NFKC"), salt, LENGTH, COST, (error, hash) => {
      if (error === null) resolve(hash);
      else reject(error);
    })
  );
}
