import { DAY, HOUR, type Micros, MINUTE } from "../../ground/time.ts";
import { PRIORITIES, type Priority } from "../../alarms/words.ts";
import type { Occurrence } from "../occurrences.ts";

/**
 * How an alarm system does by the measures of ANSI/ISA-18.2 and EEMUA publication 191. Their targets
 * are for an operator at a desk; an owner's own target is far lower.
 */
export interface Health {
  /** Time that was rehearsed, gaps between runs left out. */
  readonly lasting: Micros;
  readonly alarms: number;
  /** Ten-minute intervals from each run's start. */
  readonly intervals: number;
  /** The most in any one of them. */
  readonly peak: number;
  readonly floods: readonly Flood[];
  /** Alarms that came and went three times or more in one minute, by tag and subject. */
  readonly chattering: readonly { readonly name: string; readonly times: number }[];
  /** Alarms that stood for more than a day without a break. */
  readonly standing: readonly { readonly name: string; readonly lasting: Micros }[];
  readonly priorities: Readonly<Record<Priority, number>>;
  /** The ten most frequent, most first. */
  readonly frequent: readonly { readonly name: string; readonly alarms: number }[];
}

export interface Flood {
  readonly begins: Micros;
  readonly lasting: Micros;
  readonly alarms: number;
  readonly peak: number;
}

/** One run: raisings in order of time. */
export interface HealthRun {
  readonly begins: Micros;
  readonly ends: Micros;
  readonly occurrences: readonly Occurrence[];
  /** Those that the run before has left standing; they are no alarms of this one. */
  readonly stood?: readonly Occurrence[];
}

const INTERVAL: Micros = 10 * MINUTE;
/** A flood begins with more than this in an interval and ends with fewer than `FLOOD_ENDS`. */
const FLOOD_BEGINS = 10;
const FLOOD_ENDS = 5;
const CHATTERS = 3;
const STANDS: Micros = DAY;

export function healthOf(runs: readonly HealthRun[]): Health {
  const all = runs.flatMap(({ occurrences }) => occurrences);
  const counts = runs.map(intervalCounts);
  const byName = Map.groupBy(all, nameOf);
  const byRun = runs.map(({ occurrences }) => Map.groupBy(occurrences, nameOf));
  return {
    lasting: runs.reduce((sum, { begins, ends }) => sum + ends - begins, 0),
    alarms: all.length,
    intervals: counts.flat().length,
    peak: Math.max(0, ...counts.flat()),
    floods: runs.flatMap(({ begins, ends }, i) =>
      // The last interval of a run is as long as the run.
      floodsIn(counts[i], begins).map((flood) => ({
        ...flood,
        lasting: Math.min(flood.lasting, ends - flood.begins),
      }))
    ),
    chattering: [...byName.keys()].flatMap((name) => {
      // Two runs may have been at the same time: a recording given twice, cases, simulated days.
      const times = Math.max(...byRun.map((names) => mostInAMinute(names.get(name) ?? [])));
      return times >= CHATTERS ? [{ name, times }] : [];
    }),
    standing: lastingOf(runs).filter(({ lasting }) => lasting > STANDS),
    priorities: prioritiesOf(all),
    frequent: [...byName].map(([name, { length }]) => ({ name, alarms: length }))
      .sort((a, b) => b.alarms - a.alarms || (a.name < b.name ? -1 : 1)).slice(0, 10),
  };
}

/** The rate over the whole time, or NaN where there is none. */
export function rateIn({ alarms, lasting }: Health, length: Micros): number {
  return lasting === 0 ? NaN : alarms * length / lasting;
}

export const PER = { hour: HOUR, day: DAY, month: 30 * DAY } as const;

/**
 * Floods in counts of ten-minute intervals: from the first interval with more than ten to the last
 * before one with fewer than five.
 */
export function floodsIn(counts: readonly number[], begins: Micros): Flood[] {
  const floods: Flood[] = [];
  for (let from = 0; from < counts.length; from++) {
    if (counts[from] <= FLOOD_BEGINS) continue;
    let to = from;
    while (to + 1 < counts.length && counts[to + 1] >= FLOOD_ENDS) to++;
    const inside = counts.slice(from, to + 1);
    floods.push({
      begins: begins + from * INTERVAL,
      lasting: inside.length * INTERVAL,
      alarms: inside.reduce((sum, count) => sum + count, 0),
      peak: Math.max(...inside),
    });
    from = to;
  }
  return floods;
}

function intervalCounts({ begins, ends, occurrences }: HealthRun): number[] {
  const counts = new Array<number>(Math.max(1, Math.ceil((ends - begins) / INTERVAL))).fill(0);
  for (const { raised } of occurrences) {
    const at = Math.floor((raised - begins) / INTERVAL);
    counts[Math.min(Math.max(at, 0), counts.length - 1)]++;
  }
  return counts;
}

/** How long each alarm stood; the time between runs, in which nobody knows, is left out. */
function lastingOf(runs: readonly HealthRun[]): Health["standing"] {
  const all: { readonly name: string; lasting: Micros }[] = [];
  let open = new Map<string, typeof all[number]>();
  for (const { ends, occurrences, stood = [] } of runs) {
    const left = new Map<string, typeof all[number]>();
    for (const one of [...stood, ...occurrences]) {
      const name = nameOf(one);
      const known = stood.includes(one) ? open.get(name) : undefined;
      const entry = known ?? { name, lasting: 0 };
      if (known === undefined) all.push(entry);
      entry.lasting += (one.returned ?? ends) - one.raised;
      if (one.returned === null) left.set(name, entry);
    }
    open = left;
  }
  return all;
}

/** The most times in any one minute that one alarm was raised and returned; in order of time. */
function mostInAMinute(occurrences: readonly Occurrence[]): number {
  let most = 0;
  let first = 0;
  for (const [last, { returned }] of occurrences.entries()) {
    if (returned === null) continue;
    while (returned - occurrences[first].raised > MINUTE && first < last) first++;
    if (returned - occurrences[first].raised <= MINUTE) most = Math.max(most, last - first + 1);
  }
  return most;
}

function prioritiesOf(occurrences: readonly Occurrence[]): Record<Priority, number> {
  const counts: Record<Priority, number> = {
    "emergency-alarm": 0,
    "alarm": 0,
    "warning": 0,
    "caution": 0,
  };
  for (const { raising } of occurrences) counts[raising.priority]++;
  return counts;
}

/** In words, highest first: `1 alarm, 12 warnings`. */
export function prioritiesPresent(health: Health): Priority[] {
  return PRIORITIES.filter((priority) => health.priorities[priority] > 0);
}

function nameOf({ tag, subject }: Occurrence): string {
  return `${tag}, ${subject}`;
}
