/// <reference lib="deno.worker" />
/**
 * Runs one line of the bench in turn with the bare loop, in a thread of its own: the program has one
 * watch and nothing beside it, and what V8 learned from other lines would only slow this one down.
 */
import { benchLines } from "./bench-lines.ts";
import { fullBus } from "./full-bus.ts";
import { runLines } from "./lines.ts";

/** What the thread is asked. */
export interface LineWanted {
  readonly frames: number;
  readonly rounds: number;
  /** In `benchLines`. */
  readonly number: number;
}

/** What it answers. */
export interface LineMeasured {
  readonly title: string;
  readonly floor: number | null;
  /** Frames a second, and their ratio to the bare loop's. */
  readonly rate: number;
  readonly ratio: number;
  /** Of the lines that there are. */
  readonly count: number;
}

self.onmessage = ({ data }: MessageEvent<LineWanted>) => {
  const bus = fullBus(data.frames);
  const lines = benchLines(bus);
  const both = [lines[0], lines[data.number]];
  const { line, rate, ratio } = runLines(both, data.frames, data.rounds)[1];
  const { title, floor } = line;
  const measured: LineMeasured = { title, floor, rate, ratio, count: lines.length };
  self.postMessage(measured);
};
