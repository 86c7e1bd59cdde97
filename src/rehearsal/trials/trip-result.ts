import type { Rule } from "../../alarms/rules/rule.ts";
import type { Boat } from "../../boat/boat.ts";
import type { Micros } from "../../ground/time.ts";
import type { TrialFault, TripTruth } from "./trials.ts";

/** One alarm that rang on a trip; its time since the trip began. */
export interface Rang {
  readonly tag: string;
  readonly subject: string;
  readonly at: Micros;
}

/** What one trip brought; plain data, since it comes from another thread. */
export interface TripResult {
  readonly lasting: Micros;
  readonly rang: readonly Rang[];
}

/** Alarms of one trip, held against what really went wrong. */
export interface JudgedTrip {
  /** By tag that should tell of the fault: from its beginning to the alarm; null: it did not come. */
  readonly delays: ReadonlyMap<string, Micros | null>;
  readonly wrong: readonly Rang[];
}

/** Holds alarms against the fault that a trip had; null: it had none. */
export class TripJudge {
  readonly #eachOf: ReadonlyMap<string, Rule["each"]>;

  constructor(readonly boat: Boat, rules: readonly Rule[]) {
    this.#eachOf = new Map(rules.map(({ tag, each }) => [tag, each]));
  }

  judge(
    { rang }: TripResult,
    went: { readonly truth: TripTruth; readonly fault: TrialFault } | null,
  ): JudgedTrip {
    if (went === null) return { delays: new Map(), wrong: rang };
    const { truth, fault } = went;
    const tells = (one: Rang) =>
      one.at >= truth.began && fault.toldBy.includes(one.tag) && this.#isAbout(one, truth);
    const delays = new Map(fault.toldBy.map((tag) => {
      const first = rang.find((one) => one.tag === tag && tells(one));
      const delay = first === undefined ? Infinity : first.at - truth.began;
      return [tag, delay <= (fault.within ?? Number.MAX_VALUE) ? delay : null];
    }));
    const isRight = (one: Rang) =>
      tells(one) || one.at >= truth.began && fault.mayRing.includes(one.tag);
    return { delays, wrong: rang.filter((one) => !isRight(one)) };
  }

  /** A rule about batteries may tell of an engine's alternator: only names of its own kind count. */
  #isAbout({ tag, subject }: Rang, truth: TripTruth): boolean {
    const each = this.#eachOf.get(tag) ?? null;
    if (each === null || subject === truth.subject) return true;
    const group = each === "engine-pair" ? "engine" : each;
    const isOfItsKind = this.boat.subjects.some((one) =>
      one.group === group && one.name === truth.subject
    );
    return !isOfItsKind || each === "engine-pair" && subject.split("-").includes(truth.subject);
  }
}
