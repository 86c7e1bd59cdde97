import { FrameBatch } from "../../src/bus/frame-batch.ts";
import { type Micros, SECOND } from "../../src/ground/time.ts";
import type { Scenario } from "../../src/simulator/happening.ts";
import type { OutgoingMessage } from "../../src/simulator/message-encoder.ts";
import { SCENARIOS } from "../../src/simulator/scenarios/all.ts";
import { Simulator } from "../../src/simulator/simulator.ts";

const START = 1_781_431_200 * SECOND;

/** Plays a scenario and keeps what the devices said, before it becomes frames; times since its start. */
export function play(scenario: Scenario, until: Micros, seed = 1): OutgoingMessage[] {
  const said: OutgoingMessage[] = [];
  const encoder = {
    append: (_batch: FrameBatch, message: OutgoingMessage) => void said.push(message),
  };
  const simulator = new Simulator({ scenario, encoder, start: START, seed });
  simulator.fill(new FrameBatch(64), START + until);
  return said.map((message) => ({ ...message, time: message.time - START }));
}

/** A whole story by its name, or its beginning. */
export function told(name: string, until?: Micros, seed = 1): OutgoingMessage[] {
  const scenario = SCENARIOS.get(name);
  if (scenario === undefined) throw new RangeError(`no story "${name}"`);
  return play(scenario, until ?? scenario.lasting, seed);
}

/** Messages of one PGN, of one address where one is given. */
export function of(
  said: readonly OutgoingMessage[],
  pgn: number,
  source?: number,
): OutgoingMessage[] {
  return said.filter((one) => one.pgn === pgn && (source === undefined || one.source === source));
}

export interface Sample {
  /** Seconds since the start. */
  readonly at: number;
  /** NaN is "not available". */
  readonly value: number;
}

/** One number as it was said, of one instance. */
export function samples(
  said: readonly OutgoingMessage[],
  pgn: number,
  field: string,
  instance?: number,
): Sample[] {
  return of(said, pgn)
    .filter(({ values }) => instance === undefined || values.instance === instance)
    .map(({ time, values }) => {
      const value = values[field];
      return { at: time / SECOND, value: typeof value === "number" ? value : NaN };
    });
}

/** Those between two times, seconds, as plain numbers. */
export function between(all: readonly Sample[], from: number, to: number): number[] {
  return all.filter(({ at }) => at >= from && at < to).map(({ value }) => value);
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
