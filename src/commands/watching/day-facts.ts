import { onWatch } from "../../alarms/on-watch.ts";
import { signalWords } from "../../alarms/signal-words.ts";
import { distanceBetween } from "../../alarms/measures/distance-from.ts";
import type { Boat } from "../../boat/boat.ts";
import { Quality } from "../../boat/quality.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import { DAY, type Micros, MINUTE } from "../../ground/time.ts";
import type { DayFacts } from "../../outputs/phones/words/daily-line.ts";
import type { History } from "../../store/history.ts";
import type { MinuteRecord } from "../../store/minute-record.ts";
import { say } from "../../units/say.ts";
import type { Watch } from "../../watch.ts";

export interface DayParts extends Pick<DayFacts, "stood" | "troubled"> {
  readonly watch: Watch;
  readonly boat: Boat;
  readonly history: History;
  /** Wall time at which this watch began. */
  readonly since: Micros;
  readonly wall: Micros;
}

/** Volts of an AC line; below it nothing that is plugged in would run (our judgement). */
const MAINS = 80;

/** How the last day was: what an owner would look at first, from now and from the history. */
export async function dayFacts(parts: DayParts): Promise<DayFacts> {
  const { watch, boat, history, since, wall, stood, troubled } = parts;
  const { alarms, signals: { table }, timeline, lastFrame } = watch;
  const unjudged = alarms.unjudged();
  const statuses = alarms.statuses();
  return {
    onWatch: onWatch(statuses, unjudged),
    unjudged: unjudged.map(({ title }) => `${title.charAt(0).toLowerCase()}${title.slice(1)}`),
    statuses,
    since,
    heard: lastFrame === 0 ? null : timeline.wallOf(lastFrame),
    stood,
    troubled,
    values: [
      ...each(table, /^battery\/[^/]+\/voltage$/, (i) => batteryWords(table, i, boat)),
      ...each(table, /^shore-power\/[^/]+\/voltage$/, (i) => shoreWords(table, i)),
      ...await pumpWords(table, history, wall),
      ...mooringWords(table, boat),
    ],
  };
}

/** Runs of a pump in these minutes, each counted once, however long. */
export function runsOf(records: readonly MinuteRecord[]): number {
  let runs = 0;
  let endOfRun = -1;
  for (const record of records) {
    if (!("max" in record) || record.max <= 0) continue;
    if (record.minute !== endOfRun) runs++;
    endOfRun = record.minute + record.length;
  }
  return runs;
}

function each(table: SignalTable, pattern: RegExp, words: (signal: number) => string): string[] {
  const found: string[] = [];
  for (let i = 0; i < table.count; i++) if (pattern.test(table.facts[i].name)) found.push(words(i));
  return found;
}

function batteryWords(table: SignalTable, i: number, boat: Boat): string {
  const { subject, unit } = table.facts[i];
  const name = nameOf(subject, "battery");
  if (table.qualities[i] !== Quality.good) return `${name}: no reading`;
  // A tenth of a volt is what one remembers from yesterday.
  return `${name} ${say(table.values[i], unit, boat.units, 1)}`;
}

function shoreWords(table: SignalTable, i: number): string {
  if (table.qualities[i] !== Quality.good) return "shore power: no reading";
  return `shore power ${table.values[i] > MAINS ? "on" : "off"}`;
}

async function pumpWords(table: SignalTable, history: History, wall: Micros): Promise<string[]> {
  const names = each(table, /^bilge\/[^/]+\/pump$/, (i) => table.facts[i].name);
  const from = Math.floor((wall - DAY) / MINUTE);
  const records = await Promise.all(
    names.map((name) => history.records(name, from, Math.floor(wall / MINUTE))),
  );
  return names.flatMap((name, i) => {
    // Where nothing was kept, nobody knows.
    if (records[i].length === 0) return [];
    return [`${signalWords(name).replace(/ bilge pump$/, " pump")} ${times(runsOf(records[i]))}`];
  });
}

function mooringWords(table: SignalTable, { mooring }: Boat): string[] {
  if (mooring === undefined) return [];
  const at = (name: string): number => {
    const i = table.find(name);
    return i >= 0 && table.qualities[i] === Quality.good ? table.values[i] : NaN;
  };
  const here = { latitude: at("position/latitude"), longitude: at("position/longitude") };
  if (Number.isNaN(here.latitude + here.longitude)) return ["where she is: no reading"];
  return [`${Math.round(distanceBetween(mooring, here))} m from the mooring`];
}

function nameOf(subject: string, group: string): string {
  return /^\d/.test(subject) ? `${group} ${subject}` : subject.replaceAll("-", " ");
}

function times(count: number): string {
  if (count === 0) return "did not run";
  return `ran ${["once", "twice"][count - 1] ?? `${count} times`}`;
}
