/** The lines of `deno task bench`, over the log of a full bus. */
import { UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { BoatSignals } from "../../src/boat/boat-signals.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import { FrameBatch } from "../../src/bus/frame-batch.ts";
import { InterfaceNames } from "../../src/bus/interface-names.ts";
import { USUAL_BATCH } from "../../src/bus/parsed-source.ts";
import { CandumpLines } from "../../src/bus/recordings/candump-lines.ts";
import { SourceTally } from "../../src/bus/source-tally.ts";
import { Timeline } from "../../src/ground/timeline.ts";
import { MessageAssembler } from "../../src/nmea2000/assembler.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import { DeviceList } from "../../src/nmea2000/devices.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { Watch } from "../../src/watch.ts";
import { BareLoop } from "./bare-loop.ts";
import { asCandump, type FullBus } from "./full-bus.ts";
import type { Line } from "./lines.ts";
import { framesFrom, rulesLine, STARTING } from "./rules.ts";
import { TightLoop } from "./tight-loop.ts";

const FAST_PGNS = ALL_ROWS.filter((row) => row.transport === "fast-packet").map((row) => row.pgn);

/** What all other lines are compared with. */
export function bareLine(bus: FullBus): Line {
  return {
    title: "bare parse-and-reassemble loop",
    floor: null,
    prepare: () => {
      const loop = new BareLoop(FAST_PGNS);
      return feeding(bus, (batch) => loop.feed(batch));
    },
  };
}

/** The first is the bare loop, which all others are compared with. */
export function benchLines(bus: FullBus): Line[] {
  const tight: Line = {
    title: "the same, only typed arrays",
    floor: null,
    prepare: () => {
      const loop = new TightLoop(FAST_PGNS);
      return feeding(bus, (batch) => loop.feed(batch));
    },
  };

  const reading: Line = {
    title: "candump text to frames",
    floor: null,
    prepare: () => {
      const text = asCandump(bus);
      const parser = new CandumpLines(new InterfaceNames(new BusNames()), new SourceTally());
      const batch = new FrameBatch(USUAL_BATCH);
      return () => {
        for (let at = 0; at < text.length; batch.count = 0) at = parser.parse(text, at, batch);
      };
    },
  };

  const messages: Line = {
    title: "frames to messages",
    floor: null,
    prepare: () => {
      const assembler = new MessageAssembler(new Columns(ALL_ROWS));
      const timeline = new Timeline();
      return feeding(bus, (batch) => {
        for (let i = 0; i < batch.count; i++) {
          assembler.accept(batch, i, timeline.reach(batch.times[i]));
        }
      });
    },
  };

  const allSignals: Line = {
    title: "frames to all signals",
    floor: 0.5,
    frames: framesFrom(bus, STARTING),
    prepare: () => {
      const columns = new Columns(ALL_ROWS);
      const assembler = new MessageAssembler(columns);
      const timeline = new Timeline();
      const devices = new DeviceList(columns);
      const signals = new BoatSignals({
        boat: UNKNOWN_BOAT,
        busNames: bus.buses,
        columns,
        devices,
      });
      return feedingOn(bus, (batch) => {
        for (let i = 0; i < batch.count; i++) {
          const now = timeline.reach(batch.times[i]);
          while (signals.nextDue <= now) signals.runTimer();
          if (assembler.accept(batch, i, now) && signals.take(assembler, now)) {
            signals.table.clearFresh();
          }
        }
        signals.table.clearTouched();
      });
    },
  };

  const withHealth: Line = {
    title: "the whole watch, without rules",
    floor: 0.5,
    frames: framesFrom(bus, STARTING),
    prepare: () => {
      const watch = new Watch({ boat: UNKNOWN_BOAT, rules: [], busNames: bus.buses });
      return feedingOn(bus, (batch) => {
        watch.feed(batch);
        watch.signals.table.clearTouched();
      });
    },
  };

  const withRules = [rulesLine(bus, 200, 0.33), rulesLine(bus, 500, null)];
  return [bareLine(bus), tight, reading, messages, allSignals, withHealth, ...withRules];
}

function feeding(bus: FullBus, feed: (batch: FrameBatch) => void): () => void {
  return () => {
    for (const batch of bus.batches) feed(batch);
  };
}

/** The same for what meets every signal for the first time in the first seconds: they are left out. */
function feedingOn(bus: FullBus, feed: (batch: FrameBatch) => void): () => void {
  for (const batch of bus.batches.slice(0, STARTING)) feed(batch);
  return () => {
    for (const batch of bus.batches.slice(STARTING)) feed(batch);
  };
}
