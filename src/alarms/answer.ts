import type { Micros } from "../ground/time.ts";
import type { PersonsMove } from "./life-cycle/life-cycle.ts";

/** What a person does about one raising. */
export type Answer = Acknowledge | Shelve | Unshelve | Reset | OutOfService | ReturnToService;

interface OfOneRaising {
  readonly tag: string;
  readonly subject: string;
  /** The latest raising; 0 for an alarm that was never raised. */
  readonly occurrence: number;
  readonly who: string;
  /** In the person's own words. */
  readonly why?: string;
}

export interface Acknowledge extends OfOneRaising {
  readonly kind: "acknowledge";
}

/** Nobody is told of it for a while. */
export interface Shelve extends OfOneRaising {
  readonly kind: "shelve";
  readonly length: Micros;
}

export interface Unshelve extends OfOneRaising {
  readonly kind: "unshelve";
}

/** Ends a latched alarm whose condition has gone and which was acknowledged. */
export interface Reset extends OfOneRaising {
  readonly kind: "reset";
}

/** Nobody is told of it until it comes back, by itself after `length` at the latest. */
export interface OutOfService extends OfOneRaising {
  readonly kind: "out-of-service";
  readonly length: Micros;
}

export interface ReturnToService extends OfOneRaising {
  readonly kind: "return-to-service";
}

/** `refused` says why in a sentence. */
export type AnswerOutcome = { readonly accepted: true } | {
  readonly accepted: false;
  readonly refused: string;
};

/** An answer as the life of an alarm takes it. */
export function moveOf(answer: Answer, now: Micros): PersonsMove {
  const { occurrence, who } = answer;
  switch (answer.kind) {
    case "acknowledge":
      return { kind: "answered", occurrence, who };
    case "reset":
      return { kind: "reset", occurrence, who };
    case "shelve":
      return { kind: "shelved", occurrence, who, until: now + answer.length };
    case "unshelve":
      return { kind: "unshelved", occurrence, who };
    case "out-of-service":
      return { kind: "out-of-service", occurrence, who, until: now + answer.length };
    case "return-to-service":
      return { kind: "back-in-service", occurrence, who };
  }
}
