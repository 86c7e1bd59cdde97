import type { Rule } from "../../alarms/rules/rule.ts";
import type { Boat } from "../../boat/boat.ts";
import { HOUR, type Micros } from "../../ground/time.ts";
import { countInterval, type Interval, shareInterval } from "./interval.ts";
import type { Trials, TripTruth } from "./trials.ts";
import { TripJudge, type TripResult } from "./trip-result.ts";

/** What all trips came to. */
export interface TrialResult {
  readonly trips: number;
  readonly hours: number;
  /** By tag, those that should tell of a fault first, then those that rang, in the order of the rules. */
  readonly rules: readonly RuleResult[];
  /** In the order of the file. */
  readonly faults: readonly FaultResult[];
  /** Trips on which nothing was wrong, and what rang all the same. */
  readonly sound: { readonly trips: number; readonly wrong: ReadonlyMap<string, number> };
}

/** How often something was found of how often it was there. */
export interface Found {
  readonly of: number;
  readonly found: number;
  /** Null where it was never there. */
  readonly share: Interval | null;
  /** From the fault's beginning to the alarm; null where it was never found. */
  readonly delay: { readonly median: Micros; readonly worst: Micros } | null;
}

export interface RuleResult extends Found {
  readonly tag: string;
  readonly wrong: number;
  /** False alarms in a hundred hours, and between what it lies. */
  readonly wrongRate: { readonly rate: number; readonly interval: Interval };
}

/** Found by any of the rules that should tell of it, by the first that did. */
export interface FaultResult extends Found {
  readonly name: string;
  /** Nothing should tell of it. */
  readonly isNuisance: boolean;
  /** Alarms that were false on trips with it, by tag. */
  readonly wrong: ReadonlyMap<string, number>;
}

/** Adds up trips. */
export class TrialFigures {
  #trips = 0;
  #lasting: Micros = 0;
  readonly #judge: TripJudge;
  readonly #tags: readonly string[];
  readonly #byRule = new Map<string, Sum>();
  readonly #byFault = new Map<string, Sum & { wrong: Map<string, number> }>();
  readonly #wrong = new Map<string, number>();
  readonly #sound = { trips: 0, wrong: new Map<string, number>() };

  constructor(readonly trials: Trials, boat: Boat, rules: readonly Rule[]) {
    this.#judge = new TripJudge(boat, rules);
    this.#tags = rules.map(({ tag }) => tag);
    for (const { name, toldBy } of trials.faults) {
      this.#byFault.set(name, { of: 0, delays: [], wrong: new Map() });
      for (const tag of toldBy) this.#byRule.set(tag, { of: 0, delays: [] });
    }
  }

  /** @param truth null: nothing went wrong on this trip */
  take(result: TripResult, truth: TripTruth | null): void {
    this.#trips++;
    this.#lasting += result.lasting;
    const fault = this.trials.faults.find(({ name }) => name === truth?.name);
    const went = truth === null || fault === undefined ? null : { truth, fault };
    if (truth === null) this.#sound.trips++;
    const { delays, wrong } = this.#judge.judge(result, went);
    for (const [tag, delay] of delays) add(this.#byRule.get(tag), delay);
    const ofFault = fault && this.#byFault.get(fault.name);
    const came = [...delays.values()].filter((delay) => delay !== null);
    add(ofFault, came.length === 0 ? null : Math.min(...came));
    for (const { tag } of wrong) {
      count(this.#wrong, tag);
      if (truth === null) count(this.#sound.wrong, tag);
      else if (ofFault !== undefined) count(ofFault.wrong, tag);
    }
  }

  get result(): TrialResult {
    const hours = this.#lasting / HOUR;
    const rang = [...this.#wrong.keys()].sort((a, b) =>
      placeIn(this.#tags, a) - placeIn(this.#tags, b)
    );
    const tags = new Set([...this.#byRule.keys(), ...rang]);
    return {
      trips: this.#trips,
      hours,
      sound: this.#sound,
      rules: [...tags].map((tag) => this.#ruleResult(tag, hours)),
      faults: this.trials.faults.map(({ name, toldBy }) => {
        const sum = this.#byFault.get(name);
        return {
          name,
          isNuisance: toldBy.length === 0,
          ...foundOf(sum),
          wrong: sum?.wrong ?? new Map(),
        };
      }),
    };
  }

  #ruleResult(tag: string, hours: number): RuleResult {
    const wrong = this.#wrong.get(tag) ?? 0;
    const { from, to } = countInterval(wrong);
    const scale = 100 / hours;
    return {
      tag,
      ...foundOf(this.#byRule.get(tag)),
      wrong,
      wrongRate: { rate: wrong * scale, interval: { from: from * scale, to: to * scale } },
    };
  }
}

interface Sum {
  of: number;
  readonly delays: Micros[];
}

function add(sum: Sum | undefined, delay: Micros | null): void {
  if (sum === undefined) return;
  sum.of++;
  if (delay !== null) sum.delays.push(delay);
}

function foundOf(sum: Sum = { of: 0, delays: [] }): Found {
  const delays = sum.delays.toSorted((a, b) => a - b);
  const found = delays.length;
  return {
    of: sum.of,
    found,
    share: sum.of === 0 ? null : shareInterval(found, sum.of),
    // The lower one of two middles.
    delay: found === 0 ? null : { median: delays[(found - 1) >> 1], worst: delays[found - 1] },
  };
}

function count(counts: Map<string, number>, key: string): void {
  counts.set(key, (counts.get(key) ?? 0) + 1);
}

/** Built-in cautions come last. */
function placeIn(tags: readonly string[], tag: string): number {
  const at = tags.indexOf(tag);
  return at < 0 ? tags.length : at;
}
