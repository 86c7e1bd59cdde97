/**
 * `deno task bench [FRAMES]`: how fast Sternfast reads the log of a full bus, as ratios to a bare
 * loop over the same frames in the same run, so that they mean the same on every computer. It prints,
 * people judge: a line below its floor says so and fails nothing.
 */
import { fullBus } from "./full-bus.ts";
import { measureLine } from "./measure-line.ts";

const ROUNDS = 11;
const frames = Number(Deno.args[0] ?? 1_000_000);
const { seconds, sources, fastShare } = fullBus(frames);

say(
  `${frames} frames, ${Math.round(frames / seconds)} a second, ${sources} devices, ` +
    `${Math.round(fastShare * 100)} % parts of fast packets; fastest of ${ROUNDS} rounds`,
);
for (let number = 0, count = 1; number < count; number++) {
  const line = await measureLine({ list: "bench", frames, rounds: ROUNDS, number, beside: [0] });
  ({ count } = line);
  const [ratio] = line.ratios;
  const floor = line.floor === null ? "" : `  (floor ${line.floor.toFixed(2)})`;
  const share = `${ratio.toFixed(2)}  ${(line.rate / 1e6).toFixed(1).padStart(5)}`;
  say(`${line.title.padEnd(34)}${share} million frames/s${floor}`);
  if (line.floor !== null && ratio < line.floor) say(`BELOW FLOOR: ${line.title}`);
}

function say(line: string): void {
  Deno.stdout.writeSync(new TextEncoder().encode(`${line}\n`));
}
