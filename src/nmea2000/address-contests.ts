import { type Micros, MILLISECOND, SECOND } from "../ground/time.ts";
import { senderOf } from "./message-counts.ts";

/** Two claims within this time are a contest, which the lower NAME wins (SAE J1939-81). */
export const CONTEST: Micros = 250 * MILLISECOND;

/**
 * Time in which the loser of a contest has to take another address. At power-up all devices claim at
 * once, and contests are how they come to terms.
 */
export const CONTEST_GRACE: Micros = 30 * SECOND;

/** Two devices that both stay at one address: what comes from there may be of either. */
export interface AddressConflict {
  readonly bus: number;
  readonly address: number;
  /** Their NAMEs, the lower one first. */
  readonly names: readonly [string, string];
  /** Steady time of their first contest. */
  readonly since: Micros;
}

interface Contest extends AddressConflict {
  /** A claim that nobody contested yet: perhaps the other one is gone. */
  unanswered: Micros | null;
}

/**
 * Contests for addresses, one for each address at most. A contest is over when one of the two takes
 * another address, or when a claim is no longer contested.
 */
export class AddressContests {
  readonly #contests = new Map<number, Contest>();

  /** A device claims an address; `rival` is the NAME of one that claimed it just before, if any. */
  claim(bus: number, address: number, name: string, rival: string | null, now: Micros): void {
    const sender = senderOf(bus, address);
    const before = this.#contests.get(sender);
    if (rival === null) {
      if (before !== undefined) before.unanswered ??= now;
      return;
    }
    const names = name < rival ? [name, rival] as const : [rival, name] as const;
    const isSame = before !== undefined && isOpen(before, now) && sameNames(before.names, names);
    const since = isSame ? before.since : now;
    this.#contests.set(sender, { bus, address, names, since, unanswered: null });
  }

  /** A device leaves an address. */
  leave(bus: number, address: number, name: string): void {
    const sender = senderOf(bus, address);
    if (this.#contests.get(sender)?.names.includes(name)) this.#contests.delete(sender);
  }

  /** Contests that have not ended within the grace. */
  conflicts(now: Micros): AddressConflict[] {
    return [...this.#contests.values()]
      .filter((contest) => isOpen(contest, now) && now - contest.since > CONTEST_GRACE)
      .map(({ unanswered: _, ...conflict }) => conflict);
  }
}

function isOpen({ unanswered }: Contest, now: Micros): boolean {
  return unanswered === null || now - unanswered <= CONTEST;
}

function sameNames(a: readonly [string, string], b: readonly [string, string]): boolean {
  return a[0] === b[0] && a[1] === b[1];
}
