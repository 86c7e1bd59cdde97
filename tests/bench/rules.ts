import { Alarms } from "../../src/alarms/alarms.ts";
import type { Amount, Condition, SignalReference } from "../../src/alarms/rules/rule-parts.ts";
import type { LimitTest, Test } from "../../src/alarms/rules/test.ts";
import { type Rule, USUAL_MANNER } from "../../src/alarms/rules/rule.ts";
import { UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { BoatSignals } from "../../src/boat/boat-signals.ts";
import { Quality } from "../../src/boat/quality.ts";
import { HOUR, MINUTE, SECOND } from "../../src/ground/time.ts";
import { Timeline } from "../../src/ground/timeline.ts";
import { MessageAssembler } from "../../src/nmea2000/assembler.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import { DeviceList } from "../../src/nmea2000/devices.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import type { FrameBatch } from "../../src/bus/frame-batch.ts";
import type { FullBus } from "./full-bus.ts";
import type { Line } from "./lines.ts";

/** What the lines with rules counted, for a sentence below them. */
export interface RuleCounts {
  frames: number;
  evaluations: number;
  changes: number;
}

/**
 * All signals and `count` low and high rules, spread over all signals with numbers. One limit
 * in twenty lies where its signal moves to and fro, so that delays begin and end all the time.
 */
export function rulesLine(
  bus: FullBus,
  count: number,
  floor: number | null,
  counts: RuleCounts = { frames: 0, evaluations: 0, changes: 0 },
  seesAll = false,
): Line {
  const title = `all signals and ${count} rules`;
  return lineWith(bus, title, rulesOver(bus, count), floor, counts, seesAll);
}

/**
 * As many rules of all kinds, about as often as the packs in `rules/` have them: five in eight are
 * limits, half of all are judged only while an engine runs.
 */
export function mixedRulesLine(
  bus: FullBus,
  count: number,
  counts: RuleCounts,
  seesAll = false,
): Line {
  const rules = rulesOver(bus, count).map((rule, i) => ({ ...rule, ...mixed(rule, i) }));
  return lineWith(bus, `all signals and ${count} mixed rules`, rules, null, counts, seesAll);
}

const ENGINES = 32;
const CHARGERS = 8;

/** Batches in which the signals come for the first time, and rules are tied to them. */
export const STARTING = 20;

/** Frames of the batches from one on. */
export function framesFrom({ batches }: FullBus, first: number): number {
  return batches.slice(first).reduce((sum, { count }) => sum + count, 0);
}

/**
 * Rules whose signals nothing on this bus sends: they must cost nothing while it talks. What
 * they cost at the start is left out.
 */
export function untouchedRulesLine(bus: FullBus, count: number, counts: RuleCounts): Line {
  const rules = rulesOver(bus, count).map((rule, i): Rule => ({
    ...rule,
    test: {
      ...aLimit(rule),
      signal: { name: `battery/not-aboard-${i}/voltage`, of: null },
    },
  }));
  return lineWith(bus, `all signals and ${count} untouched rules`, rules, null, counts, false);
}

function aLimit({ test }: Rule): LimitTest {
  if (test.kind === "low" || test.kind === "high") return test;
  throw new TypeError("the bench begins with limits");
}

function mixed(rule: Rule, i: number): Partial<Rule> {
  const { signal, setpoint } = aLimit(rule);
  if (setpoint.kind !== "fixed") return {};
  const engine = i % ENGINES;
  const runs: Condition = {
    kind: "held",
    of: {
      kind: "one-of",
      signal: { name: `engine/${engine}/condition`, of: null },
      words: ["idling", "running"],
    },
    length: 10 * SECOND,
  };
  const watchWhile = i % 2 === 0 ? runs : null;
  const test = otherTest(i, signal, setpoint.amount, engine);
  return test === undefined ? { watchWhile } : { watchWhile, test };
}

/** Undefined where the rule keeps its limit. */
function otherTest(
  i: number,
  signal: SignalReference,
  amount: Amount,
  engine: number,
): Test | undefined {
  const past: Condition = { kind: "over", signal, limit: { kind: "fixed", amount } };
  const apart = { kind: "fixed", amount } as const;
  const deadband = { kind: "share", percent: 2 } as const;
  switch (i % 24) {
    case 0:
    case 8:
    case 16: {
      const bit = { name: `engine/${engine}/status/low-oil-pressure`, of: null };
      return { kind: "bit-pattern", bits: [{ signal: bit, on: true }] };
    }
    case 3:
    case 13: {
      const state = { name: `charger/${i % CHARGERS}/operating-state`, of: null };
      return { kind: "reads", signal: state, oneOf: ["not-charging"] };
    }
    case 5: {
      const window = { side: "rise", within: MINUTE } as const;
      return { kind: "rate-of-change", signal, change: apart, deadband, ...window };
    }
    case 11: {
      const starts = { rest: 0, within: HOUR, side: "at-least", usual: null } as const;
      return { kind: "count", startsOf: past, count: 1000, ...starts };
    }
    case 18:
      return { kind: "running-time", while: past, within: HOUR, atLeast: HOUR };
    case 20:
      return { kind: "deviation", signal, against: signal, limit: apart, deadband, usual: null };
    case 22:
      return { kind: "not-heard", signal };
    default:
      return undefined;
  }
}

/** @param seesAll rules are given every value, as where a history is kept, and not what may matter */
function lineWith(
  bus: FullBus,
  title: string,
  rules: readonly Rule[],
  floor: number | null,
  counts: RuleCounts,
  seesAll: boolean,
): Line {
  return {
    title: seesAll ? `${title}, seeing all` : title,
    floor,
    frames: framesFrom(bus, STARTING),
    prepare: () => {
      const { assembler, signals } = parts(bus, seesAll);
      const timeline = new Timeline();
      const alarms = new Alarms({
        rules,
        boat: UNKNOWN_BOAT,
        table: signals.table,
        timeline,
        oldAgeOf: (signal) => signals.oldAgeOf(signal),
      });
      counts.frames = bus.frames;
      counts.changes = 0;
      // As `Watch.feed` does it: the next due time is looked up when it can have come nearer.
      let nextDue = Infinity;
      const lookAhead = () => {
        nextDue = Math.min(signals.nextDue, alarms.nextDue);
      };
      const feed = (batches: readonly FrameBatch[]) =>
        batches.forEach((batch) => {
          for (let i = 0; i < batch.count; i++) {
            const now = timeline.reach(batch.times[i]);
            for (; nextDue <= now; lookAhead()) {
              if (signals.nextDue === nextDue) {
                const due = signals.nextDue;
                signals.runTimer();
                alarms.judge(due);
              } else {
                alarms.runTimer();
              }
            }
            if (!assembler.accept(batch, i, now)) continue;
            const fresh = signals.take(assembler, now);
            if (fresh) alarms.judge(now);
            if (fresh || signals.nextDue < nextDue) lookAhead();
          }
          signals.table.clearTouched();
          counts.evaluations = alarms.evaluations;
          counts.changes += alarms.drainChanges().length;
        });
      feed(bus.batches.slice(0, STARTING));
      return () => feed(bus.batches.slice(STARTING));
    },
  };
}

function parts(bus: FullBus, seesAll: boolean) {
  const columns = new Columns(ALL_ROWS);
  const devices = new DeviceList(columns);
  const signals = new BoatSignals({ boat: UNKNOWN_BOAT, busNames: bus.buses, columns, devices });
  if (!seesAll) signals.table.leaveOutUnheeded();
  return { assembler: new MessageAssembler(columns), signals };
}

/** Rules over the signals that the first batches bring, in turn. */
function rulesOver(bus: FullBus, count: number): Rule[] {
  const { assembler, signals } = parts(bus, true);
  for (const batch of bus.batches.slice(0, 20)) {
    for (let i = 0; i < batch.count; i++) {
      if (assembler.accept(batch, i, batch.times[i])) signals.take(assembler, batch.times[i]);
    }
  }
  const { facts, values, qualities } = signals.table;
  const numbers = facts.flatMap(({ unit, words }, signal) =>
    words === null && unit !== "1" && qualities[signal] === Quality.good ? [signal] : []
  );
  return Array.from({ length: count }, (_, i): Rule => {
    const signal = numbers[i % numbers.length];
    const kind = i % 2 === 0 ? "low" : "high";
    const away = i % 20 === 0 ? 0 : (kind === "low" ? -1 : 1) * (Math.abs(values[signal]) + 1) * 10;
    const amount = { value: values[signal] + away, code: facts[signal].unit, written: "" };
    return {
      tag: `rule-${i}`,
      title: `Rule ${i}`,
      each: null,
      where: {},
      only: null,
      test: {
        kind,
        signal: { name: facts[signal].name, of: null },
        setpoint: { kind: "fixed", amount },
        deadband: { kind: "share", percent: 2 },
      },
      watchWhile: null,
      suppressedWhile: null,
      covers: [],
      onDelay: 3 * SECOND,
      offDelay: 10 * SECOND,
      priority: "warning",
      ...USUAL_MANNER,
      consequence: "",
      response: { aboard: "", ashore: "" },
    };
  });
}
