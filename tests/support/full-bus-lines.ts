import { fullBus } from "../bench/full-bus.ts";
import { CandumpWriter } from "../../src/bus/recordings/candump-writer.ts";

/** Candump lines of a bus that is as full as it can be, at their own times. */
export function fullBusLines(frames: number): string {
  const { batches, buses } = fullBus(frames);
  const writer = new CandumpWriter(buses);
  const text = new TextDecoder();
  return batches.map((batch) => text.decode(writer.lines(batch))).join("");
}
