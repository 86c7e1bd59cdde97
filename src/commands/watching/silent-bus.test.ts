import { expect, onTestFinished, test, vi } from "vitest";
import { readRules } from "../../alarms/rules/read-rules.ts";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { FrameBatch } from "../../bus/frame-batch.ts";
import { emptyCounts, type FrameSource } from "../../bus/frame-source.ts";
import { type Micros, MILLISECOND, SECOND } from "../../ground/time.ts";
import { MemoryStore } from "../../store/memory-store.ts";
import { Watch } from "../../watch.ts";
import { KNOWN_QUANTITIES } from "../settings/read-boat.ts";
import { ClockSteps, steadySource } from "../sources/steady-source.ts";
import { Gateway } from "./gateway.ts";

const START: Micros = 1_781_431_200 * SECOND;
const RULES = `alarms:
  - tag: bus-dead
    title: Bus dead
    each: network
    low: { signal: frames, setpoint: 1 }
    on-delay: 60 s
    priority: warning
`;

/** An interface on which nothing comes, until it is stopped. */
function silentInterface(): FrameSource {
  const stopped = Promise.withResolvers<void>();
  return {
    title: "can0",
    live: true,
    lateness: 50 * MILLISECOND,
    stampedHere: true,
    counts: emptyCounts(),
    problems: [],
    async *batches(): AsyncGenerator<FrameBatch> {
      await stopped.promise;
      yield new FrameBatch(1);
    },
    stop: () => stopped.resolve(),
  };
}

test("a network that is dead when the program starts is told, though no frame ever came", async () => {
  const main = { name: "main", bus: "can0", speaks: "nmea2000", powered: "always" } as const;
  const boat = { ...UNKNOWN_BOAT, networks: [{ ...main, bitRate: 250_000 }] };
  const rules = readRules("rules.yaml", RULES, KNOWN_QUANTITIES).value?.rules ?? [];
  const watch = new Watch({ boat, rules, busNames: new BusNames() });
  const changes: string[] = [];
  vi.useFakeTimers({ toFake: ["Date", "setInterval", "clearInterval"], now: START / MILLISECOND });
  onTestFinished(() => void vi.useRealTimers());
  const now = () => Date.now() * MILLISECOND;
  const gateway = new Gateway({
    watch,
    store: new MemoryStore("00112233aabbccdd"),
    clock: { steady: () => now() - START, wall: now },
    outlets: [],
    interrupted: new AbortController().signal,
    onChanges: (news) => changes.push(...news.map(({ tag, subject }) => `${tag} ${subject}`)),
    onTrouble: () => {},
  });
  const source = steadySource(silentInterface(), new ClockSteps());
  const following = gateway.follow([source]);
  await vi.advanceTimersByTimeAsync(61 * SECOND / MILLISECOND);
  expect(changes).toEqual([]);
  await vi.advanceTimersByTimeAsync(4 * SECOND / MILLISECOND);
  source.stop();
  await following;
  expect(changes).toEqual(["bus-dead main"]);
});
