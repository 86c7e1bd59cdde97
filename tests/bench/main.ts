/**
 * `deno task bench [FRAMES]`: how fast Sternfast reads the log of a full bus, as ratios to a bare
 * loop over the same frames in the same run, so that they mean the same on every computer. It prints,
 * people judge: a line below its floor says so and fails nothing.
 */
import { fullBus } from "./full-bus.ts";
import type { LineMeasured, LineWanted } from "./line-worker.ts";

const ROUNDS = 11;
const frames = Number(Deno.args[0] ?? 1_000_000);
const { seconds, sources, fastShare } = fullBus(frames);

say(
  `${frames} frames, ${Math.round(frames / seconds)} a second, ${sources} devices, ` +
    `${Math.round(fastShare * 100)} % parts of fast packets; fastest of ${ROUNDS} rounds`,
);
for (let number = 0, count = 1; number < count; number++) {
  const line = await measured({ frames, rounds: ROUNDS, number });
  ({ count } = line);
  const floor = line.floor === null ? "" : `  (floor ${line.floor.toFixed(2)})`;
  const share = `${line.ratio.toFixed(2)}  ${(line.rate / 1e6).toFixed(1).padStart(5)}`;
  say(`${line.title.padEnd(34)}${share} million frames/s${floor}`);
  if (line.floor !== null && line.ratio < line.floor) say(`BELOW FLOOR: ${line.title}`);
}

function measured(wanted: LineWanted): Promise<LineMeasured> {
  const worker = new Worker(new URL("./line-worker.ts", import.meta.url), { type: "module" });
  const { promise, resolve, reject } = Promise.withResolvers<LineMeasured>();
  worker.onmessage = ({ data }: MessageEvent<LineMeasured>) => {
    worker.terminate();
    resolve(data);
  };
  worker.onerror = (event) => reject(new Error(event.message));
  worker.postMessage(wanted);
  return promise;
}

function say(line: string): void {
  Deno.stdout.writeSync(new TextEncoder().encode(`${line}\n`));
}
