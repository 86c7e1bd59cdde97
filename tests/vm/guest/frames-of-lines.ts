import { BusNames } from "../../../src/bus/bus-names.ts";
import { FrameBatch } from "../../../src/bus/frame-batch.ts";
import { InterfaceNames } from "../../../src/bus/interface-names.ts";
import { CandumpLines } from "../../../src/bus/recordings/candump-lines.ts";
import { SourceTally } from "../../../src/bus/source-tally.ts";
import { type Frame, framesIn } from "../../support/frames.ts";

/** The frames that candump lines tell of. */
export function framesOfLines(lines: string): Frame[] {
  const buses = new BusNames();
  const bytes = new TextEncoder().encode(lines);
  const batch = new FrameBatch(bytes.length);
  new CandumpLines(new InterfaceNames(buses), new SourceTally()).parse(bytes, 0, batch);
  return framesIn(batch, buses);
}
