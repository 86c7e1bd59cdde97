/// <reference lib="deno.worker" />
/**
 * Runs one line of a bench in turn with those that it is compared with, in a thread of its own: the
 * program has one watch and nothing beside it, and what V8 learned from other lines would only slow
 * this one down.
 */
import { benchLines } from "./bench-lines.ts";
import { fullBus } from "./full-bus.ts";
import { runLines } from "./lines.ts";
import { ruleLines } from "./rule-lines.ts";

/** What the thread is asked. */
export interface LineWanted {
  readonly list: keyof typeof LISTS;
  readonly frames: number;
  readonly rounds: number;
  /** Of the line in its list. */
  readonly number: number;
  /** Of the lines that it is compared with. */
  readonly beside: readonly number[];
}

/** What it answers. */
export interface LineMeasured {
  readonly title: string;
  readonly floor: number | null;
  /** Frames a second, and their ratio to the rate of each line beside. */
  readonly rate: number;
  readonly ratios: readonly number[];
  /** Of rules, for each frame. */
  readonly evaluations: number;
  /** Of the lines that there are. */
  readonly count: number;
}

const LISTS = { bench: benchLines, rules: ruleLines };

self.onmessage = ({ data }: MessageEvent<LineWanted>) => {
  const { list, frames, rounds, number, beside } = data;
  const lines = LISTS[list](fullBus(frames));
  const wanted = lines[number];
  const results = runLines([...beside, number].map((one) => lines[one]), frames, rounds);
  const { rate } = results[beside.length];
  const measured: LineMeasured = {
    title: wanted.title,
    floor: wanted.floor,
    rate,
    ratios: results.slice(0, beside.length).map((other) => rate / other.rate),
    evaluations: (wanted.counts?.evaluations ?? 0) / frames,
    count: lines.length,
  };
  self.postMessage(measured);
};
