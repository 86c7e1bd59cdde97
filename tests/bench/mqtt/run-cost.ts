import { asCandump, fullBus } from "../full-bus.ts";
import { ROOT } from "../../support/sternfast.ts";
import { memoryOf, type MemorySample, slopeOf } from "../resident-memory.ts";

export interface RunCost {
  /** Share of one core, percent. */
  readonly processor: number;
  /** Megabytes at the end, and how many more each minute over the second half. */
  readonly memory: number;
  readonly slope: number;
  readonly framesPerSecond: number;
}

const FRAMES_PER_SECOND = 1_800;
/** Clock ticks a second in /proc/PID/stat (proc(5), sysconf(_SC_CLK_TCK)), 100 on Linux. */
const TICKS = 100;
const WARM_UP = 8;

/** The whole of `run` on a full bus that comes at its own pace by standard input. Linux only. */
export async function measureRun(broker: string, seconds: number): Promise<RunCost> {
  const text = new TextDecoder().decode(asCandump(fullBus(FRAMES_PER_SECOND * seconds)));
  const lines = text.trimEnd().split("\n");
  const state = Deno.makeTempDirSync({ prefix: "sternfast-bench-" });
  const example = `${ROOT}/examples/hazel-comfort`;
  const process = new Deno.Command(Deno.execPath(), {
    args: [
      ...[
        "run",
        "-A",
        "--v8-flags=--disallow-code-generation-from-strings",
        "src/commands/main.ts",
      ],
      ...["run", "-", "--broker", broker, "--state", state],
      ...["--boat", `${example}/boat.yaml`, "--rules", `${example}/rules`],
    ],
    cwd: ROOT,
    stdin: "piped",
    stdout: "null",
    stderr: "null",
  }).spawn();
  const writer = process.stdin.getWriter();
  const encoder = new TextEncoder();
  const samples: MemorySample[] = [];
  const began = performance.now();
  let ticks = 0;
  let at = 0;
  for (let sent = 0; sent < lines.length;) {
    const passed = (performance.now() - began) / 1000;
    const due = Math.min(lines.length, Math.ceil(passed * FRAMES_PER_SECOND));
    if (due > sent) await writer.write(encoder.encode(`${lines.slice(sent, due).join("\n")}\n`));
    sent = due;
    if (passed > WARM_UP && at === 0) [ticks, at] = [ticksOf(process.pid), passed];
    if (samples.length < passed) samples.push({ at: passed, memory: memoryOf(process.pid) });
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  const passed = (performance.now() - began) / 1000;
  const used = (ticksOf(process.pid) - ticks) / TICKS;
  const memory = memoryOf(process.pid);
  await writer.close();
  await process.status;
  Deno.removeSync(state, { recursive: true });
  const late = samples.filter((sample) => sample.at > passed / 2);
  return {
    processor: 100 * used / (passed - at),
    memory,
    slope: 60 * slopeOf(late),
    framesPerSecond: lines.length / passed,
  };
}

/** User and system time, fields 14 and 15 of proc(5). */
function ticksOf(pid: number): number {
  const text = Deno.readTextFileSync(`/proc/${pid}/stat`);
  const fields = text.slice(text.lastIndexOf(")") + 2).split(" ");
  return Number(fields[11]) + Number(fields[12]);
}
