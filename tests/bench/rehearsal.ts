/**
 * `deno run -A tests/bench/rehearsal.ts [MILLIONS]`: what `rehearse` takes for the log of a full bus
 * with all packs that a boat with diesels uses, as whole processes, start-up included: beside
 * `wc -l` and `tshark -T fields` on the same file; with a hundred variants tried; a folder of four
 * such logs on one core and on two; and the most memory that each had. Six million frames unless said
 * otherwise: an hour of a full bus is 6.5. Linux only. It prints, people judge.
 */
import { toolIsInstalled } from "../support/installed-tool.ts";
import { ROOT } from "../support/sternfast.ts";
import { DAY } from "../../src/ground/time.ts";
import { longLog } from "./long-log.ts";
import { mostMemoryOf, workOf } from "./resident-memory.ts";

const millions = Number(Deno.args[0] ?? 6);
const folder = Deno.makeTempDirSync({ prefix: "sternfast-rehearsal-" });
const log = `${folder}/1.log`;
const TRIED = "engine-over-speed on-delay 1 to 100 s by 1";

const config: { tasks: { sternfast: string } } = JSON.parse(
  Deno.readTextFileSync(`${ROOT}/deno.json`),
);
const sternfast = config.tasks.sternfast.split(" ");
const settings = ["--settings", `${ROOT}/examples/sea-trials/sternfast.yaml`];
const rehearse = (...typed: string[]) => [...sternfast, "rehearse", ...typed, ...settings];

interface Taken {
  readonly seconds: number;
  /** Seconds of work on all cores: what counts where others work beside it. */
  readonly work: number;
  /** Megabytes. */
  readonly most: number;
}

try {
  await writeLog(log, 0);
  const plain = await taken(rehearse(log));
  say("rehearse, all packs", plain, plain);
  say("the same, a hundred values tried", await taken(rehearse(log, "--try", TRIED)), plain);
  say("wc -l", await taken(["wc", "-l", log]), plain);
  const fields = ["-T", "fields", "-e", "frame.time_epoch", "-e", "can.id", "-e", "can.len"];
  if (toolIsInstalled("tshark")) {
    say("tshark -T fields", await taken(["tshark", "-n", "-r", log, ...fields]), plain);
  }
  for (const number of [2, 3, 4]) await writeLog(`${folder}/${number}.log`, number * DAY);
  const oneCore = await taken(["taskset", "-c", "0", ...rehearse(folder)]);
  say("a folder of four on one core", oneCore, plain);
  say("the same on all cores", await taken(rehearse(folder)), plain);
} finally {
  Deno.removeSync(folder, { recursive: true });
}

/** @param later than the first log: what lies a day apart is no one run */
async function writeLog(place: string, later: number): Promise<void> {
  using file = await Deno.open(place, { write: true, create: true });
  const writer = file.writable.getWriter();
  for (const lines of longLog(millions, later)) await writer.write(lines.slice());
}

async function taken([program, ...args]: readonly string[]): Promise<Taken> {
  const began = performance.now();
  const process = new Deno.Command(program, { args, cwd: ROOT, stdout: "null", stderr: "null" })
    .spawn();
  let most = 0;
  let work = 0;
  const looking = setInterval(() => {
    most = Math.max(most, mostMemoryOf(process.pid));
    work = Math.max(work, workOf(process.pid));
  }, 20);
  await process.status;
  clearInterval(looking);
  return { seconds: (performance.now() - began) / 1000, work, most };
}

function say(title: string, { seconds, work, most }: Taken, ours: Taken): void {
  const line = `${title.padEnd(34)}${seconds.toFixed(1).padStart(6)} s, ` +
    `${work.toFixed(1).padStart(6)} s of work, ` +
    `${(work / ours.work).toFixed(2).padStart(5)} of the first line's, ` +
    `${String(Math.round(most)).padStart(4)} MB\n`;
  Deno.stdout.writeSync(new TextEncoder().encode(line));
}
