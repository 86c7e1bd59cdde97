import { describe, expect, test } from "vitest";
import { readRules } from "../../alarms/rules/read-rules.ts";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { BUILT } from "../../ground/clock.ts";
import { type Micros, MINUTE, parseIsoTime, SECOND } from "../../ground/time.ts";
import type { BrokerState } from "../../outputs/mqtt/broker-link.ts";
import { Watch } from "../../watch.ts";
import { KNOWN_QUANTITIES } from "../settings/read-boat.ts";
import { ownHealth } from "./own-health.ts";

const SPRING = parseIsoTime("2027-04-01T10:00:00Z") ?? 0;
const BROKER = "broker.example";
const AWAY: BrokerState = { state: "away", broker: BROKER, why: "", nextTry: 0 };
const CONNECTING: BrokerState = { state: "connecting", broker: BROKER };
const CONNECTED: BrokerState = { state: "connected", broker: BROKER, version: 5 };

const pack = Deno.readTextFileSync(new URL("../../../rules/computer.yaml", import.meta.url));

/** The shipped pack over a computer whose disk, broker and clock are as a test says. */
function begin(disk?: () => number) {
  const rules = readRules("computer.yaml", pack, KNOWN_QUANTITIES).value?.rules ?? [];
  const watch = new Watch({ boat: UNKNOWN_BOAT, rules, busNames: new BusNames() });
  const now = {
    steady: SPRING,
    wall: SPRING,
    broker: undefined as BrokerState | undefined,
    isFailing: false,
  };
  const health = ownHealth({
    watch,
    clock: { steady: () => now.steady, wall: () => now.wall },
    askDisk: disk && (() => Promise.resolve(disk())),
    isFailing: () => now.isFailing,
    broker: () => now.broker,
  });
  const story: string[] = [];
  /** Turns once a second, and says what changed, in minutes since the beginning. */
  const pass = async (length: Micros) => {
    for (const end = now.steady + length; now.steady < end;) {
      now.steady += SECOND;
      now.wall += SECOND;
      watch.advance(now.steady);
      health.turn?.(now.steady);
      await Promise.resolve();
      for (const { tag, to, time } of watch.takeChanges()) {
        story.push(`${Math.round((time - SPRING) / MINUTE)} ${tag} ${to}`);
      }
    }
    return story;
  };
  const names = () => watch.signals.table.facts.map(({ name }) => name);
  return { now, pass, names, watch };
}

describe("what the gateway knows of itself", () => {
  test("is no more than there is: without folder and broker, only the clock", async () => {
    const own = begin();
    expect(await own.pass(20 * MINUTE)).toEqual([]);
    expect(own.names().filter((name) => name.startsWith("computer/"))).toEqual(["computer/clock"]);
  });

  test("a broker that is away for a quarter of an hour is told, tries between notwithstanding", async () => {
    const own = begin();
    own.now.broker = CONNECTED;
    await own.pass(5 * MINUTE);
    own.now.broker = AWAY;
    await own.pass(7 * MINUTE);
    own.now.broker = CONNECTING;
    await own.pass(MINUTE);
    own.now.broker = AWAY;
    expect(await own.pass(6 * MINUTE)).toEqual([]);
    expect(await own.pass(2 * MINUTE)).toEqual(["20 broker-away acknowledged"]);
    own.now.broker = CONNECTED;
    expect((await own.pass(6 * MINUTE)).slice(1)).toEqual(["26 broker-away normal"]);
  });

  test("a broker that comes back within a quarter of an hour is not", async () => {
    const own = begin();
    for (let times = 0; times < 4; times++) {
      own.now.broker = AWAY;
      await own.pass(14 * MINUTE);
      own.now.broker = CONNECTED;
      await own.pass(MINUTE);
    }
    expect(await own.pass(MINUTE)).toEqual([]);
  });

  test("a disk below a tenth is told after ten minutes, and over from twelve percent on", async () => {
    let free = 9.9;
    const own = begin(() => free);
    expect(await own.pass(12 * MINUTE)).toEqual(["10 disk-almost-full acknowledged"]);
    free = 11;
    await own.pass(20 * MINUTE);
    free = 12.5;
    expect((await own.pass(10 * MINUTE)).slice(1)).toEqual(["37 disk-almost-full normal"]);
  });

  test("a disk that cannot be asked is not known, and raises nothing", async () => {
    const own = begin(() => NaN);
    expect(await own.pass(30 * MINUTE)).toEqual([]);
    expect(own.names()).not.toContain("computer/disk-free");
  });

  test("a state folder that is not written for five minutes is told, though there is room", async () => {
    const own = begin(() => 50);
    own.now.isFailing = true;
    await own.pass(4 * MINUTE);
    own.now.isFailing = false;
    await own.pass(MINUTE);
    own.now.isFailing = true;
    expect(await own.pass(6 * MINUTE)).toEqual(["10 state-folder-failing unacknowledged"]);
    own.now.isFailing = false;
    await own.pass(6 * MINUTE);
    expect(own.watch.alarms.statuses().find(({ tag }) => tag === "state-folder-failing")?.state)
      .toBe("returned-unacknowledged");
  });

  test("a clock that is not set for a quarter of an hour is told, and over when it is", async () => {
    const own = begin();
    own.now.wall = BUILT - 90 * MINUTE;
    expect(await own.pass(16 * MINUTE)).toEqual(["15 clock-unset acknowledged"]);
    own.now.wall = SPRING;
    expect((await own.pass(6 * MINUTE)).slice(1)).toEqual(["21 clock-unset normal"]);
  });
});
