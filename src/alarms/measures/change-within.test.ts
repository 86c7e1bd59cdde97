import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Quality, Reason } from "../../boat/quality.ts";
import { SignalTable } from "../../boat/signal-table.ts";
import { SECOND } from "../../ground/time.ts";
import { ConditionProgram } from "../compile/condition-program.ts";
import { ChangeWithin } from "./change-within.ts";

const WITHIN = 20 * SECOND;
const QUIET_UP_TO = 5;

/** What a signal read from each whole second on; NaN while it was not known. */
type Reading = { readonly at: number; readonly value: number };

const readings = fc.array(
  fc.record({
    wait: fc.integer({ min: 1, max: 12 }),
    value: fc.oneof(
      { weight: 8, arbitrary: fc.integer({ min: 0, max: 12 }) },
      { weight: 1, arbitrary: fc.constant(NaN) },
    ),
  }),
  { minLength: 1, maxLength: 40 },
).map((steps) => {
  let at = 0;
  return steps.map(({ wait, value }): Reading => ({ at: at += wait * SECOND, value }));
});

describe("how far a signal has changed", () => {
  test("is past what stays quiet at the same instants as by looking at every second", () => {
    fc.assert(fc.property(readings, fc.constantFrom<1 | -1>(1, -1), (steps, sign) => {
      const measured = secondsPast(steps, sign);
      const end = steps[steps.length - 1].at + 2 * WITHIN;
      for (let now = 0; now <= end; now += SECOND) {
        const change = sign * (readAt(steps, now) - readAt(steps, now - WITHIN));
        expect([now, measured.has(now)]).toEqual([now, change > QUIET_UP_TO]);
      }
    }));
  });

  test("sets no timer for what leaves the window while nothing in it is far enough away", () => {
    const { change, tell } = measure(1);
    tell(50, 0);
    for (let second = 1; second <= 30; second++) tell(50 + second % 3, second * SECOND);
    expect(change.nextDue).toBe(Infinity);
    tell(58, 31 * SECOND);
    expect(change.nextDue).toBeLessThan(33 * SECOND);
  });
});

/** The seconds in which the figure is greater than what stays quiet, followed by its own timers. */
function secondsPast(steps: readonly Reading[], sign: 1 | -1): Set<number> {
  const { change, tell, look } = measure(sign);
  const past = new Set<number>();
  const end = steps[steps.length - 1].at + 2 * WITHIN;
  let next = 0;
  for (let now = 0; now <= end; now += SECOND) {
    if (next < steps.length && steps[next].at === now) tell(steps[next++].value, now);
    else if (change.nextDue <= now) look(now);
    if (change.figure > QUIET_UP_TO) past.add(now);
  }
  return past;
}

function readAt(steps: readonly Reading[], now: number): number {
  return steps.findLast(({ at }) => at <= now)?.value ?? NaN;
}

function measure(sign: 1 | -1) {
  const table = new SignalTable();
  const signal = table.intern({
    ...{ name: "engine/port/coolant-temperature", group: "engine", subject: "port" },
    ...{ quantity: "coolant-temperature", unit: "Cel", decimals: 1, words: null, span: null },
    derived: false,
  });
  const change = new ChangeWithin(signal, sign, WITHIN, QUIET_UP_TO);
  const program = new ConditionProgram([], table);
  const look = (now: number) => change.follow({ table, program }, now);
  return {
    change,
    look,
    tell(value: number, now: number): void {
      const isKnown = !Number.isNaN(value);
      const quality = isKnown ? Quality.good : Quality.bad;
      table.set(signal, value, quality, isKnown ? Reason.none : Reason.notHeard, now);
      look(now);
    },
  };
}
