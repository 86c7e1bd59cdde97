import type { Boat } from "../boat/boat.ts";
import { Reason } from "../boat/quality.ts";
import type { Sender } from "../boat/subject-match.ts";
import { type Micros, SECOND } from "../ground/time.ts";
import { roundTo } from "../units/rounding.ts";
import { roundRate } from "./round-rate.ts";
import type { SurveySender, SurveySignal } from "./report-schema.ts";
import type { SignalObservation } from "./signal-observer.ts";
import { type DeviceParts, senderAt } from "./survey-devices.ts";
import { judge } from "./verdict.ts";

export interface SignalParts extends DeviceParts {
  /** By signal. */
  readonly observations: ReadonlyMap<number, SignalObservation>;
  /** Who spoke for one thing, by signal. */
  readonly contested: ReadonlyMap<number, ReadonlyMap<string, Sender>>;
  /** Steady time at which listening ended. */
  readonly end: Micros;
}

/** Every signal that was heard, with a verdict; by name. */
export function surveySignals(parts: SignalParts): SurveySignal[] {
  const { end, observations, wall, watch: { signals } } = parts;
  return [...observations].map(([signal, observation]): SurveySignal => {
    const { facts, firstHeard, lastHeard, messages, range } = observation;
    const { words } = facts;
    const inWords = words !== null;
    const round = (value: number) =>
      inWords || !Number.isFinite(value) ? null : roundTo(value, facts.decimals);
    const senders = sendersOf(parts, signal);
    const oldAge = signals.oldAgeOf(signal);
    const listened = (lastHeard - firstHeard) / SECOND;
    return {
      name: facts.name,
      unit: facts.unit,
      decimals: facts.decimals,
      value: round(observation.value),
      word: words?.get(observation.value) ?? null,
      lowest: round(range.lowest),
      highest: round(range.highest),
      changes: observation.changes,
      messages,
      notAvailable: observation.byReason[Reason.notAvailable],
      rate: messages < 2 || listened <= 0 ? null : roundRate((messages - 1) / listened),
      lastHeard: wall(lastHeard),
      senders,
      ...judge(observation, { end, oldAge, addresses: senders.length }),
    };
  }).toSorted((a, b) => a.name.localeCompare(b.name, "en", { numeric: true }));
}

/** Things that the boat file names and nobody spoke for: "battery/house". */
export function missingSubjects(boat: Boat, signals: readonly SurveySignal[]): string[] {
  // What no message answers to is worked out, such as the health of a network.
  const spokenFor = boat.subjects.filter(({ keys }) => keys.length > 0);
  return spokenFor.map(({ group, name }) => `${group}/${name}`)
    .filter((subject) => !signals.some(({ name }) => name.startsWith(`${subject}/`)));
}

function sendersOf(parts: SignalParts, signal: number): SurveySender[] {
  const { busNames, contested, observations, watch: { signals } } = parts;
  const { table, binder } = signals;
  const wasContested = (observations.get(signal)?.byReason[Reason.twoSenders] ?? 0) > 0;
  const rivals = wasContested ? contested.get(signal) : undefined;
  const own = binder.bound[table.carriers[signal]]?.sender;
  const senders = rivals !== undefined ? [...rivals.values()] : own === undefined ? [] : [own];
  return senders.map(({ address, bus }) => senderAt(parts, busNames.numberOf(bus), address));
}
