/**
 * `deno run -A tests/bench/rehearsal.ts [MILLIONS]`: what `rehearse` takes for the log of a full bus
 * with all packs, as whole processes: with start-up and without, and as a ratio to the bare loop of
 * `deno task bench` over as many frames, to `wc -l` and to `tshark -T fields` on the same file; with
 * a hundred variants tried; a folder of four such logs on one core and on all; and the most memory
 * that each had. The full bus has 32 engines, so the packs make some 700 alarms of it. Six and a half
 * million frames, an hour of it, unless said otherwise. What counts is the work, since others may
 * work beside it: the load is printed too. Linux only. It prints, people judge.
 */
import { toolIsInstalled } from "../support/installed-tool.ts";
import { ROOT } from "../support/sternfast.ts";
import { DAY } from "../../src/ground/time.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { BareLoop } from "./bare-loop.ts";
import { fullBus } from "./full-bus.ts";
import { runLines } from "./lines.ts";
import { longLog } from "./long-log.ts";
import { mostMemoryOf, workOf } from "./resident-memory.ts";

const millions = Number(Deno.args[0] ?? 6.5);
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
  print(`${millions} million frames; load of the last minute ${Deno.loadavg()[0].toFixed(1)}`);
  await writeLog(log, 0);
  const short = `${folder}/short.log`;
  await writeShort(short);
  const startUp = await taken(rehearse(short));
  Deno.removeSync(short);
  const plain = await taken(rehearse(log));
  const title = "rehearse, all packs";
  say(title, plain, plain);
  say("its start-up, and a second of the bus", startUp, plain);
  say("a hundred variants", await taken(rehearse(log, "--try", TRIED)), plain);
  const bare = bareSeconds();
  const wc = await taken(["wc", "-l", log]);
  say("wc -l", wc, plain);
  const fields = ["-T", "fields", "-e", "frame.time_epoch", "-e", "can.id", "-e", "can.len"];
  const tshark = toolIsInstalled("tshark")
    ? await taken(["tshark", "-n", "-r", log, ...fields])
    : undefined;
  if (tshark !== undefined) say("tshark -T fields", tshark, plain);
  for (
    const [what, work] of [[title, plain.work], ["without start-up", plain.work - startUp.work]]
  ) {
    const times = (one: number) => `${(Number(work) / one).toFixed(2)} times`;
    print(
      `${what}: ${times(bare)} the bare loop (${bare.toFixed(2)} s), ${times(wc.work)} wc -l` +
        (tshark === undefined ? "" : `, ${times(tshark.work)} tshark -T fields`),
    );
  }
  for (const number of [2, 3, 4]) await writeLog(`${folder}/${number}.log`, number * DAY);
  const oneCore = await taken(["taskset", "-c", "0", ...rehearse(folder)]);
  const allCores = await taken(rehearse(folder));
  say("a folder of four on one core", oneCore, plain);
  say("the same on all cores", allCores, plain);
  print(
    `all cores take ${(allCores.seconds / oneCore.seconds).toFixed(2)} of one core's time; ` +
      `load of the last minute ${Deno.loadavg()[0].toFixed(1)}`,
  );
} finally {
  Deno.removeSync(folder, { recursive: true });
}

/** Seconds that the bare loop takes for as many frames. */
function bareSeconds(): number {
  const bus = fullBus(1_000_000);
  const fast = ALL_ROWS.filter((row) => row.transport === "fast-packet").map((row) => row.pgn);
  const prepare = () => {
    const loop = new BareLoop(fast);
    return () => bus.batches.forEach((batch) => loop.feed(batch));
  };
  const [{ rate }] = runLines([{ title: "", floor: null, prepare }], bus.frames, 7);
  return millions * 1e6 / rate;
}

/** The first second of the same bus. */
async function writeShort(place: string): Promise<void> {
  const [lines] = longLog(1);
  await Deno.writeFile(place, lines);
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
  const { success } = await process.status;
  clearInterval(looking);
  if (!success) throw new Error(`${program} ${args.join(" ")} failed`);
  return { seconds: (performance.now() - began) / 1000, work, most };
}

function say(title: string, { seconds, work, most }: Taken, ours: Taken): void {
  print(
    `${title.padEnd(38)}${seconds.toFixed(1).padStart(6)} s, ` +
      `${work.toFixed(1).padStart(6)} s of work, ` +
      `${(work / ours.work).toFixed(2).padStart(5)} of the first line's, ` +
      `${String(Math.round(most)).padStart(4)} MB`,
  );
}

function print(line: string): void {
  Deno.stdout.writeSync(new TextEncoder().encode(`${line}\n`));
}
