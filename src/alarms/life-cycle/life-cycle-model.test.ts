import fc from "fast-check";
import { expect, test } from "vitest";
import { type AlarmLife, NEVER_RAISED, nextDue } from "./alarm-life.ts";
import { Found, Kleene } from "./kleene.ts";
import {
  type Judged,
  type Manner,
  type Observation,
  type PersonsMove,
  step,
  type Transition,
} from "./life-cycle.ts";

/**
 * A second writing of contract §5, slow and plain: it asks at each microsecond whether the wanted
 * answer held without a break, and how long each thing has lasted. Unknown answers are left to
 * `delay.test.ts`; here all answers are known.
 */
interface Moment {
  readonly active: boolean;
  readonly clear: boolean;
  readonly watching: boolean;
  readonly suppressed: boolean;
  readonly covered: boolean;
}

class PlainModel {
  readonly moves: string[] = [];
  state = "normal";
  hold = "none";
  occurrence = 0;
  #risen = false;
  #present = false;
  #raisingSince = Infinity;
  #returningSince = Infinity;
  #holdEnds = Infinity;
  /** Since when it has been unanswered, or answered and present, with nothing that holds it back. */
  #waitingSince = Infinity;

  constructor(readonly manner: Manner) {}

  tick(now: number, moment: Moment): void {
    const { active, clear, watching, suppressed, covered } = moment;
    if (now >= this.#holdEnds) this.#release(now, "");
    if (this.hold === "suppressed-by-design" && !suppressed) this.#hold("none", now, "");

    const mayRise = active && watching && !suppressed && !covered;
    this.#raisingSince = since(this.#raisingSince, mayRise && !this.#present, now);
    const goes = (clear || !watching) && this.#present;
    this.#returningSince = since(this.#returningSince, goes, now);
    if (now - this.#raisingSince >= this.manner.onDelay) {
      this.#present = true;
      this.#raisingSince = this.#returningSince = Infinity;
      this.occurrence++;
      this.#risen = false;
      this.#waitingSince = this.#isTimed() ? Infinity : now;
      this.#move(this.manner.asksForAnswer ? "unacknowledged" : "acknowledged", now);
    } else if (now - this.#returningSince >= this.manner.offDelay) {
      this.#present = false;
      this.#raisingSince = this.#returningSince = Infinity;
      const over = this.state === "acknowledged" ? "normal" : "returned-unacknowledged";
      const latched = this.state === "acknowledged"
        ? "latched-acknowledged"
        : "latched-unacknowledged";
      this.#move(this.manner.latches ? latched : over, now);
    }
    if (suppressed && this.hold === "none" && this.state === "normal") {
      this.#hold("suppressed-by-design", now, "");
    }

    const waited = now - this.#waitingSince;
    if (this.state === "unacknowledged" && !this.#risen && waited >= this.manner.risesAfter) {
      this.#risen = true;
      this.#move("unacknowledged", now);
    } else if (
      this.state === "acknowledged" && this.manner.asksForAnswer && waited >= this.manner.againAfter
    ) {
      this.#waitingSince = now;
      this.#move("unacknowledged", now);
    }
  }

  person(now: number, move: PersonsMove): void {
    if (move.occurrence !== this.occurrence) return;
    switch (move.kind) {
      case "answered":
        if (this.state === "unacknowledged") {
          this.#waitingSince = this.#isTimed() ? Infinity : now;
          this.#move("acknowledged", now, "Ann");
        } else if (this.state === "returned-unacknowledged") this.#move("normal", now, "Ann");
        else if (this.state === "latched-unacknowledged") {
          this.#move("latched-acknowledged", now, "Ann");
        }
        return;
      case "reset":
        if (this.state === "latched-acknowledged") this.#move("normal", now, "Ann");
        return;
      case "shelved":
      case "out-of-service":
        if (move.kind === "shelved" && this.hold === "out-of-service") return;
        this.#holdEnds = move.until;
        this.#waitingSince = Infinity;
        return this.#hold(move.kind, now, "Ann");
      case "unshelved":
        if (this.hold === "shelved") this.#release(now, "Ann");
        return;
      case "back-in-service":
        if (this.hold === "out-of-service") this.#release(now, "Ann");
    }
  }

  #isTimed(): boolean {
    return this.hold === "shelved" || this.hold === "out-of-service";
  }

  #release(now: number, by: string): void {
    this.#holdEnds = Infinity;
    this.hold = "none";
    const asks = this.#present && this.manner.asksForAnswer;
    if (asks) this.#waitingSince = now;
    this.#move(asks ? "unacknowledged" : this.state, now, by);
  }

  #hold(hold: string, now: number, by: string): void {
    const isOwn = [hold, this.hold].includes("suppressed-by-design");
    this.hold = hold;
    this.#move(this.state, now, by, isOwn);
  }

  #move(state: string, now: number, by = "", isOwn = false): void {
    const isTold = by !== "" || !(isOwn || this.#isTimed());
    if (state === "normal") this.#risen = false;
    const risen = this.#risen ? " risen" : "";
    const { state: from, hold, occurrence } = this;
    this.moves.push(
      `${now} ${from} ${state} ${hold} ${occurrence}${risen}${isTold ? " told" : ""}`,
    );
    this.state = state;
  }
}

function since(before: number, holds: boolean, now: number): number {
  return holds ? Math.min(before, now) : Infinity;
}

const FOUND = { clear: Found.clear, deadband: Found.deadband, active: Found.active };

const event = fc.record({
  wait: fc.integer({ min: 1, max: 9 }),
  found: fc.constantFrom<keyof typeof FOUND>("clear", "deadband", "active", "active"),
  watching: fc.constantFrom(true, true, false),
  suppressed: fc.constantFrom(false, false, false, true),
  covered: fc.constantFrom(false, false, false, true),
  person: fc.option(fc.record({
    kind: fc.constantFrom<PersonsMove["kind"]>(
      ...(["answered", "answered", "reset", "shelved"] as const),
      ...(["unshelved", "out-of-service", "back-in-service"] as const),
    ),
    /** Which raising is meant, from the present one down. */
    back: fc.constantFrom(0, 0, 0, 1),
    length: fc.integer({ min: 1, max: 20 }),
  })),
});

const manner = fc.record<Manner>({
  onDelay: fc.nat(12),
  offDelay: fc.nat(12),
  asksForAnswer: fc.boolean(),
  latches: fc.boolean(),
  againAfter: fc.constantFrom(Infinity, 7, 15),
  risesAfter: fc.constantFrom(Infinity, 5, 11),
});

test("any sequence of events moves an alarm as the plain model does", () => {
  fc.assert(fc.property(fc.array(event, { maxLength: 60 }), manner, (events, given) => {
    // A caution does not latch: rules that say so are refused.
    const manner = { ...given, latches: given.latches && given.asksForAnswer };
    const model = new PlainModel(manner);
    const moves: string[] = [];
    let life: AlarmLife = NEVER_RAISED;
    const observe = (observation: Observation, now: number) => {
      const made = step(life, observation, now, manner);
      life = made.life;
      moves.push(...made.transitions.map((one) => said(one, now)));
    };
    let judged: Omit<Judged, "from"> = {
      ...{ kind: "judged", found: Found.clear, watching: Kleene.no },
      ...{ suppressed: false, covered: false, lost: false, oldAge: 5 },
    };
    let moment: Moment = {
      ...{ active: false, clear: true, watching: false },
      ...{ suppressed: false, covered: false },
    };
    let now = 0;
    for (const { wait, found, watching, suppressed, covered, person } of events) {
      const end = now + wait;
      while (now < end) {
        now++;
        model.tick(now, moment);
        if (nextDue(life) <= now) observe({ ...judged, from: now }, now);
      }
      const [active, clear] = [found === "active", found === "clear"];
      moment = { active, clear, watching, suppressed, covered };
      const answer = watching ? Kleene.yes : Kleene.no;
      judged = { ...judged, found: FOUND[found], watching: answer, suppressed, covered };
      model.tick(now, moment);
      observe({ ...judged, from: now }, now);
      if (person === null) continue;
      const { kind, back, length } = person;
      const occurrence = life.state.occurrence - back;
      const move = { kind, occurrence, who: "Ann", until: now + length };
      model.person(now, move);
      observe(move, now);
      model.tick(now, moment);
      observe({ ...judged, from: now }, now);
    }
    expect(moves).toEqual(model.moves);
    expect([life.state.name, life.hold.kind]).toEqual([model.state, model.hold]);
  }));
});

function said({ from, to, occurrence, hold, risen, isTold }: Transition, now: number): string {
  const rest = `${risen ? " risen" : ""}${isTold ? " told" : ""}`;
  return `${now} ${from} ${to} ${hold} ${occurrence}${rest}`;
}
