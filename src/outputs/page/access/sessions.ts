import { createHash } from "node:crypto";
import { DAY, type Micros } from "../../../ground/time.ts";
import type { Role } from "./role.ts";

/** Not used for so long, a session ends. */
export const IDLE: Micros = 7 * DAY;
/** However much it is used, a session ends. */
export const LONGEST: Micros = 30 * DAY;
/** More than a family has phones; the one that was used longest ago makes room. */
export const MOST_SESSIONS = 100;

export interface Session {
  readonly role: Role;
  readonly who: string;
  readonly formToken: string;
}

interface Kept extends Session {
  readonly begun: Micros;
  used: Micros;
}

/**
 * Who has signed in, by a secret that only their browser keeps. In memory alone: a restart of the
 * program ends every session, and no file of it can be stolen. Times are steady.
 */
export class Sessions {
  /** By the hash of the secret, least lately used first. */
  readonly #kept = new Map<string, Kept>();

  /** @param newSecret 256 bits of chance, in letters that a cookie can carry */
  constructor(readonly newSecret: () => string) {}

  /** @returns the secret that the browser is to keep */
  begin(role: Role, who: string, now: Micros): string {
    const secret = this.newSecret();
    const [oldest] = this.#kept.keys();
    if (this.#kept.size >= MOST_SESSIONS) this.#kept.delete(oldest);
    const formToken = this.newSecret();
    this.#kept.set(hashOf(secret), { role, who, formToken, begun: now, used: now });
    return secret;
  }

  /** The session of a secret, which counts as used now; undefined where there is none, or no more. */
  find(secret: string, now: Micros): Session | undefined {
    const hash = hashOf(secret);
    const session = this.#kept.get(hash);
    if (session === undefined) return undefined;
    this.#kept.delete(hash);
    if (isOver(session, now)) return undefined;
    session.used = now;
    this.#kept.set(hash, session);
    return session;
  }

  /** Whether it would be found, without counting it as used. */
  isOpen(secret: string, now: Micros): boolean {
    const session = this.#kept.get(hashOf(secret));
    return session !== undefined && !isOver(session, now);
  }

  end(secret: string): void {
    this.#kept.delete(hashOf(secret));
  }
}

function isOver({ begun, used }: Kept, now: Micros): boolean {
  return now - used > IDLE || now - begun > LONGEST;
}

/** Looked up by its hash, a secret cannot be guessed letter by letter from how long that takes. */
function hashOf(secret: string): string {
  return createHash("sha256").update(secret).digest("base64url");
}
