import { backOff } from "../../../ground/back-off.ts";
import { HOUR, type Micros } from "../../../ground/time.ts";
import type { PhoneMessage, SendOutcome } from "../way.ts";
import type { AskedWay } from "./asked-way.ts";

/** What becomes of one message on its way. */
export type DeliveryStep =
  | { readonly kind: "trying"; readonly way: string; readonly tried: number }
  | { readonly kind: "waiting"; readonly why: string; readonly tried: number }
  | { readonly kind: "accepted"; readonly way: string; readonly tried: number }
  | { readonly kind: "failed"; readonly why: string; readonly tried: number };

export interface DeliverParts {
  /** The ways to the person, the first one first. */
  readonly ways: readonly AskedWay[];
  /** The message as it must be told at this moment; null when it need not be told any more. */
  readonly messageNow: () => PhoneMessage | null;
  /** Steady time at which it was due. */
  readonly due: Micros;
  /** An emergency: also a way that asked to be left alone is tried, at once and by its back-off. */
  readonly isUrgent: boolean;
  readonly steady: () => Micros;
  /** From 0 to 1, for the jitter between tries. */
  readonly random: () => number;
  /** Resolves after a length of time, or at once when `cut`. */
  readonly wait: (length: Micros, cut: AbortSignal) => Promise<void>;
  readonly cut: AbortSignal;
  readonly onStep: (step: DeliveryStep) => void;
}

/** After so long nobody waits for it any more, and it has failed for good (our judgement). */
const GIVEN_UP_AFTER: Micros = 24 * HOUR;

/**
 * Brings one message to one person through the first of their ways that takes it: the ways are tried
 * one after another, and all of them again after a while. A way that refuses it is not asked again,
 * and one that asks to be left alone is left alone but for an emergency. Resolves when it was
 * accepted, has failed for good, was withdrawn, or `cut`.
 */
export async function deliver(parts: DeliverParts): Promise<void> {
  const { steady, cut, onStep, due, isUrgent } = parts;
  let ways = parts.ways;
  let why = ways[0]?.why ?? "there is no way to this person";
  let tried = 0;
  while (!cut.aborted) {
    for (const asked of ways.filter(({ notBefore }) => isUrgent || notBefore <= steady())) {
      const message = parts.messageNow();
      if (message === null || cut.aborted) return;
      onStep({ kind: "trying", way: asked.way.name, tried: ++tried });
      const outcome = await send(asked, message, cut);
      if (cut.aborted && outcome.kind !== "accepted") return;
      if (outcome.kind === "accepted") {
        return onStep({ kind: "accepted", way: asked.way.name, tried });
      }
      why = outcome.why;
      if (outcome.kind === "refused") ways = ways.filter((other) => other !== asked);
      else if (outcome.after !== undefined) {
        asked.notBefore = steady() + outcome.after;
        asked.why = why;
      }
    }
    if (ways.length === 0) return onStep({ kind: "failed", why, tried });
    if (steady() - due > GIVEN_UP_AFTER) {
      return onStep({ kind: "failed", why: `a day of trying did not help: ${why}`, tried });
    }
    onStep({ kind: "waiting", why, tried });
    await parts.wait(pauseBefore(ways, tried, parts), cut);
  }
}

/** Until the back-off ends, and the first way may be asked. */
function pauseBefore(
  ways: readonly AskedWay[],
  tried: number,
  { steady, random, isUrgent }: DeliverParts,
): Micros {
  const open = isUrgent ? 0 : Math.min(...ways.map(({ notBefore }) => notBefore));
  const rounds = Math.max(1, Math.ceil(tried / ways.length));
  return Math.max(open - steady(), backOff(rounds, random()));
}

async function send(
  asked: AskedWay,
  message: PhoneMessage,
  cut: AbortSignal,
): Promise<SendOutcome> {
  try {
    return await asked.way.send(message, cut);
  } catch (error) {
    // An error's own words may hold an address, and with it a secret.
    return { kind: "try-again", why: error instanceof Error ? error.name : "an error" };
  }
}
