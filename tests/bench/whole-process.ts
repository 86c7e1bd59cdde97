/**
 * `deno run -A tests/bench/whole-process.ts [MILLIONS]`: how long whole processes take for the log of
 * a full bus: `sternfast run` with all signals, devices and bus health, beside `tshark -T fields`
 * and python-can's reader, which decode nothing. What is missing here is left out. Ten million frames
 * unless said otherwise. It prints, people judge.
 */
import { toolIsInstalled } from "../support/installed-tool.ts";
import { ROOT, taskArguments } from "../support/sternfast.ts";
import { longLog } from "./long-log.ts";

const millions = Number(Deno.args[0] ?? 10);
const folder = Deno.makeTempDirSync({ prefix: "sternfast-whole-" });
const log = `${folder}/full.log`;

const READ_ALL = `import sys, can
count = 0
for _ in can.CanutilsLogReader(sys.argv[1]):
    count += 1
print(count)
`;

interface Contender {
  readonly title: string;
  readonly typed: readonly string[];
}

const sternfast: Contender = {
  title: "sternfast run",
  typed: [Deno.execPath(), ...await taskArguments(), "run", log],
};
const others: readonly Contender[] = [
  {
    title: "tshark -T fields",
    typed: [
      ...["tshark", "-n", "-r", log, "-T", "fields", "-e", "frame.time_epoch"],
      ...["-e", "can.id", "-e", "can.len"],
    ],
  },
  { title: "python-can's reader", typed: ["python3", "-c", READ_ALL, log] },
];

try {
  await writeLog();
  const ours = await timed(sternfast);
  say(sternfast.title, ours, ours);
  for (const other of others) {
    if (!toolIsInstalled(other.typed[0])) continue;
    say(other.title, await timed(other), ours);
  }
} finally {
  Deno.removeSync(folder, { recursive: true });
}

async function writeLog(): Promise<void> {
  using file = await Deno.open(log, { write: true, create: true });
  const writer = file.writable.getWriter();
  for (const lines of longLog(millions)) await writer.write(lines.slice());
}

/** Seconds; NaN where it fails, as where a library is missing. */
async function timed({ typed: [program, ...args] }: Contender): Promise<number> {
  const began = performance.now();
  const { success } = await new Deno.Command(program, {
    args,
    cwd: ROOT,
    stdout: "null",
    stderr: "null",
  }).output();
  return success ? (performance.now() - began) / 1000 : NaN;
}

function say(title: string, seconds: number, ours: number): void {
  const rate = (millions / seconds).toFixed(2);
  const line =
    `${title.padEnd(20)} ${seconds.toFixed(1).padStart(7)} s  ${rate} million frames/s  ` +
    `${(seconds / ours).toFixed(1)} times ours`;
  Deno.stdout.writeSync(new TextEncoder().encode(`${line}\n`));
}
