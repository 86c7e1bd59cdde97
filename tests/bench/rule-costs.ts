/**
 * `deno run -A tests/bench/rule-costs.ts [FRAMES]`: what judging costs, beside the same frames with no
 * rule, and that rules whose signals nothing sends cost nothing, however many they are. Values that
 * stay on one side of all their limits do not come to the rules; where a history is kept, all do:
 * then it says evaluations a frame, and nanoseconds an evaluation, which may be 1.5 times a frame of
 * the bare loop.
 */
import { measureLine } from "./measure-line.ts";
import { SEES_ALL } from "./rule-lines.ts";

const ROUNDS = 15;
const frames = Number(Deno.args[0] ?? 500_000);

for (let number = 1, count = 2; number < count; number++) {
  const beside = [0, number < SEES_ALL ? 1 : SEES_ALL];
  const line = await measureLine({ list: "rules", frames, rounds: ROUNDS, number, beside });
  ({ count } = line);
  const { evaluations, rate, ratios: [toBare, toNone] } = line;
  const nanoseconds = 1e9 / rate;
  const bare = nanoseconds * toBare;
  const judging = nanoseconds * (1 - toNone);
  const each = judging / evaluations;
  say(
    `${line.title.padEnd(45)}${nanoseconds.toFixed(0).padStart(4)} ns a frame, ` +
      `${(1 / toBare).toFixed(2)} bare frames, ${(1 / toNone).toFixed(2)} without rules` +
      (number <= SEES_ALL
        ? `; ${evaluations.toFixed(2)} evaluations`
        : `; ${evaluations.toFixed(2)} evaluations of ${each.toFixed(0)} ns, ` +
          `${(each / bare).toFixed(2)} bare frames`),
  );
}

function say(line: string): void {
  Deno.stdout.writeSync(new TextEncoder().encode(`${line}\n`));
}
