/**
 * `deno run -A tests/bench/flat-memory.ts [MILLIONS]`: the resident memory of `sternfast run` while a
 * hundred million frames of a full bus, or as many as said, come through standard input as fast as
 * it takes them. Linux only. It prints, people judge.
 */
import { ROOT, taskArguments } from "../support/sternfast.ts";
import { longLog } from "./long-log.ts";
import { memoryOf, type MemorySample, slopeOf } from "./resident-memory.ts";

const millions = Number(Deno.args[0] ?? 100);
const example = `${ROOT}/examples/hazel-comfort`;
const process = new Deno.Command(Deno.execPath(), {
  args: [
    ...[...await taskArguments(), "run", "-"],
    ...["--boat", `${example}/boat.yaml`, "--rules", `${example}/rules`],
  ],
  cwd: ROOT,
  stdin: "piped",
  stdout: "null",
  stderr: "null",
}).spawn();
const writer = process.stdin.getWriter();
const samples: MemorySample[] = [];
const began = performance.now();
let frames = 0;
for (const lines of longLog(millions)) {
  await writer.write(lines.slice());
  frames += 1024;
  if (frames < (samples.length + 1) * 1e6) continue;
  samples.push({ at: frames / 1e6, memory: memoryOf(process.pid) });
}
const seconds = (performance.now() - began) / 1000;
await writer.close();
await process.status;
const late = samples.slice(samples.length >> 1);
const line = `${millions} million frames in ${seconds.toFixed(0)} s: ` +
  `${Math.round(Math.max(...samples.map(({ memory }) => memory)))} MB at most, ` +
  `${slopeOf(late).toFixed(3)} MB more with each million in the second half\n`;
Deno.stdout.writeSync(new TextEncoder().encode(line));
