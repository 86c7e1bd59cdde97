/**
 * `deno run -A tests/bench/rule-costs.ts [FRAMES]`: what judging costs, beside the same frames with no
 * rule: evaluations a frame, nanoseconds an evaluation (which may be 1.5 times a frame of the bare
 * loop), and that rules whose signals nothing sends cost nothing, however many they are.
 */
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { BareLoop } from "./bare-loop.ts";
import { fullBus } from "./full-bus.ts";
import { type Line, runLines } from "./lines.ts";
import { mixedRulesLine, type RuleCounts, rulesLine, untouchedRulesLine } from "./rules.ts";

const ROUNDS = 5;
const FAST_PGNS = ALL_ROWS.filter((row) => row.transport === "fast-packet").map((row) => row.pgn);

const frames = Number(Deno.args[0] ?? 500_000);
const bus = fullBus(frames);

const bare: Line = {
  title: "bare parse-and-reassemble loop",
  floor: null,
  prepare: () => {
    const loop = new BareLoop(FAST_PGNS);
    return () => bus.batches.forEach((batch) => loop.feed(batch));
  },
};

const counts = new Map<Line, RuleCounts>();

function counting(make: (counts: RuleCounts) => Line): Line {
  const counted = { frames: 0, evaluations: 0, changes: 0 };
  const line = make(counted);
  counts.set(line, counted);
  return line;
}

const none = counting((counted) => rulesLine(bus, 0, null, counted));
const lines = [
  bare,
  none,
  ...[200, 500].map((count) => counting((counted) => rulesLine(bus, count, null, counted))),
  counting((counted) => mixedRulesLine(bus, 500, counted)),
  ...[50, 500, 5000].map((count) => counting((it) => untouchedRulesLine(bus, count, it))),
];
const results = runLines(lines, frames, ROUNDS);
const without = results.find(({ line }) => line === none)?.rate ?? NaN;
for (const { line, rate, ratio } of results) {
  const nanoseconds = 1e9 / rate;
  const judging = nanoseconds - 1e9 / without;
  const evaluations = (counts.get(line)?.evaluations ?? 0) / frames;
  const each = evaluations > 0
    ? `, ${evaluations.toFixed(2)} evaluations of ${(judging / evaluations).toFixed(0)} ns`
    : "";
  say(`${line.title.padEnd(38)}${ratio.toFixed(2)}  ${nanoseconds.toFixed(0)} ns a frame${each}`);
}

function say(line: string): void {
  Deno.stdout.writeSync(new TextEncoder().encode(`${line}\n`));
}
