/**
 * `deno run -A tests/bench/phones.ts [COUNT]`: how long after a condition is met the request that
 * tells of it reaches a push service on this computer, beyond the rule's own delay (here 0). Frames
 * go through the whole gateway, events and messages to the disk first. It prints, people judge; the
 * aim is 100 ms.
 */
import { readRules } from "../../src/alarms/rules/read-rules.ts";
import { UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { KnownQuantities } from "../../src/boat/known-quantities.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import { FrameBatch, FrameFlag } from "../../src/bus/frame-batch.ts";
import { emptyCounts, type FrameSource } from "../../src/bus/frame-source.ts";
import { Gateway } from "../../src/commands/watching/gateway.ts";
import { openPhones } from "../../src/commands/watching/phones-opening.ts";
import { realClock } from "../../src/commands/watching/real-clock.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { openStore } from "../../src/store/worker-store.ts";
import { Watch } from "../../src/watch.ts";

/** PGN 127488, engine speed: instance, then speed in steps of 0.25. */
const IDENTIFIER = (2 << 26 | 127488 << 8 | 1) >>> 0;
const [SLOW, FAST] = [800, 3000];
const AIM = 100;
const WARM_UP = 10;

const RULES = `
alarms:
  - tag: too-fast
    title: Engine too fast
    each: engine
    high: { signal: speed, setpoint: 2600 rpm }
    priority: emergency-alarm
    consequence: The bench has something to measure.
    response: { aboard: Slow down., ashore: Call somebody. }
`;

const count = Number(Deno.args[0] ?? 200);
const folder = await Deno.makeTempDir({ prefix: "sternfast-bench-" });
let arrived = Promise.withResolvers<number>();
const service = Deno.serve(
  { hostname: "127.0.0.1", port: 0, onListen: () => {} },
  async (request) => {
    const now = performance.now();
    const { about } = await request.json();
    if (about === "raised") arrived.resolve(now);
    return new Response();
  },
);

const clock = realClock();
const busNames = new BusNames();
const { value: rules, problems } = readRules("bench.yaml", RULES, new KnownQuantities(ALL_ROWS));
if (rules === undefined) throw new Error(JSON.stringify(problems));
const watch = new Watch({ boat: UNKNOWN_BOAT, rules: rules.rules, busNames });
const store = await openStore(folder);
const phones = await openPhones({
  people: [{
    name: "Ellen",
    wants: ["emergency-alarm"],
    reach: [{ post: `http://127.0.0.1:${service.addr.port}/` }],
  }],
  boat: UNKNOWN_BOAT,
  statuses: () => watch.alarms.statuses(),
  store,
  clock,
  say: (sentence) => print(sentence),
});
const gateway = new Gateway({
  watch,
  store,
  clock,
  outlets: [phones],
  interrupted: new AbortController().signal,
  onChanges: () => {},
  onTrouble: (error) => {
    throw error;
  },
});

const delays: number[] = [];
const source: FrameSource = {
  title: "bench",
  live: true,
  counts: emptyCounts(),
  problems: [],
  batches,
  stop: () => {},
};
await gateway.follow([source]);
await gateway.close();
await service.shutdown();
await Deno.remove(folder, { recursive: true });
const sorted = delays.slice(WARM_UP).sort((a, b) => a - b);
print(
  `condition met → request on the wire, ${sorted.length} emergencies saved on disk first: ` +
    `p50 ${at(sorted, 0.5)} ms   p99 ${at(sorted, 0.99)} ms   (aim ${AIM} ms)`,
);
Deno.exit();

/** The engine goes too fast, and slows down when the service has heard of it. */
async function* batches(): AsyncGenerator<FrameBatch> {
  const batch = new FrameBatch(1);
  for (let i = 0; i < count + WARM_UP; i++) {
    arrived = Promise.withResolvers();
    const met = performance.now();
    yield frameOf(batch, FAST);
    delays.push(await arrived.promise - met);
    yield frameOf(batch, SLOW);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

function frameOf(batch: FrameBatch, speed: number): FrameBatch {
  const raw = speed * 4;
  batch.times[0] = clock.wall();
  batch.buses[0] = busNames.numberOf("can0");
  batch.flags[0] = FrameFlag.extended;
  batch.identifiers[0] = IDENTIFIER;
  batch.lengths[0] = 8;
  batch.data.set([0, raw & 0xff, raw >> 8, 0xff, 0xff, 0x7f, 0xff, 0xff]);
  batch.count = 1;
  return batch;
}

function at(sorted: readonly number[], share: number): string {
  return (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN).toFixed(1);
}

function print(line: string): void {
  Deno.stdout.writeSync(new TextEncoder().encode(`${line}\n`));
}
