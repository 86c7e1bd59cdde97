import fc from "fast-check";
import { expect, test } from "vitest";
import { Found, Kleene } from "./kleene.ts";
import { type AlarmState, NEVER_RAISED, nextDue, step, type Transition } from "./life-cycle.ts";

/**
 * A second writing of contract §5, slow and plain: it keeps the whole history of what was observed
 * and asks at each microsecond whether the wanted answer held without a break. Unknown answers are
 * left to `delay.test.ts`; here all answers are known.
 */
interface Moment {
  readonly at: number;
  readonly active: boolean;
  readonly clear: boolean;
  readonly watching: boolean;
}

class PlainModel {
  readonly moves: string[] = [];
  state = "normal";
  #present = false;
  #raisingSince = Infinity;
  #returningSince = Infinity;
  occurrence = 0;

  constructor(readonly onDelay: number, readonly offDelay: number, readonly asks: boolean) {}

  tick(now: number, moment: Moment): void {
    this.#raisingSince = this.#since(this.#raisingSince, moment.active && moment.watching, now);
    this.#returningSince = this.#since(this.#returningSince, moment.clear || !moment.watching, now);
    if (!this.#present && now - this.#raisingSince >= this.onDelay) {
      this.#present = true;
      this.occurrence++;
      this.#move(this.asks ? "unacknowledged" : "acknowledged", now);
    } else if (this.#present && now - this.#returningSince >= this.offDelay) {
      this.#present = false;
      this.#move(this.state === "acknowledged" ? "normal" : "returned-unacknowledged", now);
    }
  }

  answer(now: number, occurrence: number): void {
    if (occurrence !== this.occurrence) return;
    if (this.state === "unacknowledged") this.#move("acknowledged", now);
    else if (this.state === "returned-unacknowledged") this.#move("normal", now);
  }

  #since(since: number, holds: boolean, now: number): number {
    return holds ? Math.min(since, now) : Infinity;
  }

  #move(state: string, now: number): void {
    this.moves.push(`${now} ${this.state} ${state} ${this.occurrence}`);
    this.state = state;
  }
}

const FOUND = { clear: Found.clear, deadband: Found.deadband, active: Found.active };

const event = fc.record({
  wait: fc.integer({ min: 1, max: 9 }),
  found: fc.constantFrom<keyof typeof FOUND>("clear", "deadband", "active"),
  watching: fc.boolean(),
  /** Which raising is answered, from the present one down; 3: none. */
  answers: fc.constantFrom(0, 1, 3, 3, 3),
});

test("any sequence of events moves an alarm as the plain model does", () => {
  fc.assert(fc.property(
    fc.array(event, { maxLength: 60 }),
    fc.nat(12),
    fc.nat(12),
    fc.boolean(),
    (events, onDelay, offDelay, asks) => {
      const manner = { onDelay, offDelay, asksForAnswer: asks };
      const model = new PlainModel(onDelay, offDelay, asks);
      const moves: string[] = [];
      let state: AlarmState = NEVER_RAISED;
      let judged: { found: Found; watching: Kleene } = { found: Found.clear, watching: Kleene.no };
      let moment: Moment = { at: 0, active: false, clear: true, watching: false };
      const observe = (now: number) => {
        const whole = { kind: "judged", ...judged, lost: false, oldAge: 5, from: now } as const;
        const made = step(state, whole, now, manner);
        state = made.state;
        moves.push(...made.transitions.map((one) => said(one, now)));
      };
      let now = 0;
      for (const { wait, found, watching, answers } of events) {
        const end = now + wait;
        while (now < end) {
          now++;
          model.tick(now, moment);
          if (nextDue(state) === now) observe(now);
        }
        moment = { at: now, active: found === "active", clear: found === "clear", watching };
        judged = { found: FOUND[found], watching: watching ? Kleene.yes : Kleene.no };
        model.tick(now, moment);
        observe(now);
        if (answers === 3) continue;
        const occurrence = state.occurrence - answers;
        model.answer(now, occurrence);
        const made = step(state, { kind: "answered", occurrence, who: "Ann" }, now, manner);
        state = made.state;
        moves.push(...made.transitions.map((one) => said(one, now)));
      }
      expect(moves).toEqual(model.moves);
      expect(state.name).toBe(model.state);
    },
  ));
});

function said({ from, to, occurrence }: Transition, now: number): string {
  return `${now} ${from} ${to} ${occurrence}`;
}
