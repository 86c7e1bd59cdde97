import { Alarms } from "../../src/alarms/alarms.ts";
import { type Rule, USUAL_MANNER } from "../../src/alarms/rules/rule.ts";
import { UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { BoatSignals } from "../../src/boat/boat-signals.ts";
import { Quality } from "../../src/boat/quality.ts";
import { SECOND } from "../../src/ground/time.ts";
import { Timeline } from "../../src/ground/timeline.ts";
import { MessageAssembler } from "../../src/nmea2000/assembler.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import { DeviceList } from "../../src/nmea2000/devices.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
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
): Line {
  const rules = rulesOver(bus, count);
  return {
    title: `all signals and ${count} rules`,
    floor,
    prepare: () => {
      const { assembler, devices, signals } = parts(bus);
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
      return () =>
        bus.batches.forEach((batch) => {
          for (let i = 0; i < batch.count; i++) {
            const now = timeline.reach(batch.times[i]);
            while (signals.nextDue <= now || alarms.nextDue <= now) {
              if (signals.nextDue <= alarms.nextDue) {
                const due = signals.nextDue;
                signals.runTimer();
                alarms.judge(due);
              } else {
                alarms.runTimer();
              }
            }
            if (!assembler.accept(batch, i, now)) continue;
            devices.take(assembler, now);
            if (signals.take(assembler, now)) alarms.judge(now);
          }
          signals.table.clearTouched();
          counts.evaluations = alarms.evaluations;
          counts.changes += alarms.drainChanges().length;
        });
    },
  };
}

function parts(bus: FullBus) {
  const columns = new Columns(ALL_ROWS);
  const devices = new DeviceList(columns);
  const signals = new BoatSignals({ boat: UNKNOWN_BOAT, busNames: bus.buses, columns, devices });
  return { assembler: new MessageAssembler(columns), devices, signals };
}

/** Rules over the signals that the first batches bring, in turn. */
function rulesOver(bus: FullBus, count: number): Rule[] {
  const { assembler, signals } = parts(bus);
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
