import { BusNames } from "../bus/bus-names.ts";
import { FrameBatch } from "../bus/frame-batch.ts";
import { CandumpWriter } from "../bus/recordings/candump-writer.ts";
import type { Micros } from "../ground/time.ts";
import type { Simulator } from "./simulator.ts";

const BATCH_FRAMES = 4096;

/**
 * Plays the simulator up to a time and writes what passed on its bus as `candump -L` would.
 * `write` is given pieces of text that are good until it returns.
 */
export function writeRecording(
  simulator: Simulator,
  bus: string,
  until: Micros,
  write: (lines: Uint8Array) => void,
): void {
  const names = new BusNames();
  names.numberOf(bus);
  const writer = new CandumpWriter(names);
  const batch = new FrameBatch(BATCH_FRAMES);
  let whole = false;
  while (!whole) {
    batch.count = 0;
    whole = simulator.fill(batch, until);
    write(writer.lines(batch));
  }
}
