import { describe, expect, test } from "vitest";
import type { AlarmStatus } from "../../alarms/change.ts";
import { readRules } from "../../alarms/rules/read-rules.ts";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { FrameBatch } from "../../bus/frame-batch.ts";
import { emptyCounts, type FrameSource, SourceEndedEarly } from "../../bus/frame-source.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { WireValues } from "../../nmea2000/encode.ts";
import { FrameWriter } from "../../nmea2000/frame-writer.ts";
import { ALL_ROWS } from "../../nmea2000/rows/all.ts";
import { MemoryStore } from "../../store/memory-store.ts";
import { type Commit, StoreError, type Turn } from "../../store/store.ts";
import { Watch } from "../../watch.ts";
import { Gateway, type Outlet } from "./gateway.ts";
import { readKnowledge } from "./kept-knowledge.ts";
import { KNOWN_QUANTITIES } from "../settings/read-boat.ts";

const START: Micros = 1_781_431_200 * SECOND;
const LOW = `alarms:
  - tag: battery-low
    title: Battery low
    each: battery
    low: { signal: voltage, setpoint: 12 V }
    priority: emergency-alarm
    consequence: Nothing will start.
    response: { aboard: Charge it., ashore: Call. }
`;

/** A recording of one battery that says these volts, second by second. */
function volts(values: readonly number[], cut?: string): FrameSource {
  const said = values.map((voltage) => ({
    instance: 0,
    voltage,
    current: null,
    temperature: null,
  }));
  return messages(127508, said, cut);
}

function messages(pgn: number, values: readonly WireValues[], cut?: string): FrameSource {
  const writer = new FrameWriter();
  const row = ALL_ROWS.find((row) => row.pgn === pgn);
  if (row === undefined) throw new Error(`no row for ${pgn}`);
  const batch = new FrameBatch(1);
  return {
    title: "said.log",
    live: false,
    counts: emptyCounts(),
    problems: [],
    stop() {},
    async *batches() {
      for (const [i, said] of values.entries()) {
        batch.count = 0;
        writer.write(batch, row, said, { bus: 0, source: 1, time: START + i * SECOND });
        yield await Promise.resolve(batch);
      }
      if (cut !== undefined) throw new SourceEndedEarly(cut);
    },
  };
}

/** A disk that takes a turn only when it is told to. */
class SlowStore extends MemoryStore {
  readonly waiting: PromiseWithResolvers<void>[] = [];
  override commit(turn: Turn): Commit {
    const disk = Promise.withResolvers<void>();
    this.waiting.push(disk);
    return { ...super.commit(turn), saved: disk.promise };
  }
}

function gatewayOf(
  outlets: readonly Outlet[],
  store = new MemoryStore("00112233aabbccdd"),
  interrupted = new AbortController().signal,
  ruleText = LOW,
) {
  const rules = readRules("rules.yaml", ruleText, KNOWN_QUANTITIES).value?.rules ?? [];
  const busNames = new BusNames();
  busNames.numberOf("can0");
  const watch = new Watch({ boat: UNKNOWN_BOAT, rules, busNames });
  const changes: string[] = [];
  const troubles: string[] = [];
  const gateway = new Gateway({
    watch,
    store,
    clock: { steady: () => START, wall: () => START },
    outlets,
    interrupted,
    onChanges: (news) => changes.push(...news.map(({ to }) => to)),
    onTrouble: ({ message }) => troubles.push(message),
  });
  return { gateway, watch, changes, troubles };
}

/** Keeps what it is told of alarms. */
class Listener implements Outlet {
  readonly saved: string[] = [];
  readonly unsaved: string[] = [];
  readonly heard = Promise.withResolvers<void>();
  stopped = false;
  alarmsSaved(alarms: readonly AlarmStatus[]): void {
    this.saved.push(alarms.map(({ state }) => state).join());
  }
  eventsUnsaved(_: unknown, alarms: readonly AlarmStatus[]): void {
    this.unsaved.push(alarms.map(({ state }) => state).join());
    this.heard.resolve();
  }
  stop(): Promise<void> {
    this.stopped = true;
    return Promise.resolve();
  }
}

describe("the gateway", () => {
  test("tells every outlet of alarms as they stood when they were saved, in order", async () => {
    const listener = new Listener();
    const { gateway, changes } = gatewayOf([listener]);
    expect(await gateway.follow([volts([12.6, 11.5, 12.6])])).toEqual([]);
    expect(changes).toEqual(["unacknowledged", "returned-unacknowledged"]);
    expect(listener.saved).toEqual(["normal", "unacknowledged", "returned-unacknowledged"]);
    await gateway.close();
    expect(listener.stopped).toBe(true);
  });

  test("keeps a fault of one outlet from all the others", async () => {
    const listener = new Listener();
    const faulty: Outlet = {
      turn() {
        throw new Error("no room on the page");
      },
      stop: () => Promise.reject(new Error("it will not close")),
    };
    const { gateway, troubles } = gatewayOf([faulty, listener]);
    await gateway.follow([volts([11.5])]);
    await gateway.close();
    expect(listener.saved.at(-1)).toBe("unacknowledged");
    expect(listener.stopped).toBe(true);
    expect(new Set(troubles)).toEqual(new Set(["no room on the page", "it will not close"]));
  });

  test("tells once of a change that an outlet itself brings about", async () => {
    let turns = 0;
    const outlet: Outlet = {
      turn: () => {
        if (turns++ === 0) watch.noteProofsDue(1);
      },
      stop: () => Promise.resolve(),
    };
    const { gateway, watch, changes } = gatewayOf([outlet]);
    await gateway.follow([volts([12.6, 12.6])]);
    await gateway.close();
    expect(changes).toEqual(["acknowledged"]);
  });

  test("follows the other recordings where one ends early", async () => {
    const { gateway, changes } = gatewayOf([]);
    const sources = [volts([12.6], "a.log is cut off"), volts([11.5])];
    expect(await gateway.follow(sources)).toEqual(["a.log is cut off"]);
    expect(changes).toEqual(["unacknowledged"]);
  });

  test("ends when the watch itself fails, and says why", async () => {
    const { gateway, watch } = gatewayOf([]);
    watch.takeChanges = () => {
      throw new Error("a fault inside");
    };
    await expect(gateway.follow([volts([12.6])])).rejects.toThrow("a fault inside");
  });

  test("does not run ahead of the disk with a recording, but lets an emergency go out", async () => {
    const listener = new Listener();
    const store = new SlowStore("00112233aabbccdd");
    const { gateway, changes } = gatewayOf([listener], store);
    const following = gateway.follow([volts([11.5, 12.6])]);
    await listener.heard.promise;
    expect(changes).toEqual(["unacknowledged"]);
    expect(listener.unsaved).toEqual(["unacknowledged"]);
    expect(listener.saved).toEqual([]);
    store.waiting[0].resolve();
    const rest = setInterval(() => store.waiting.forEach(({ resolve }) => resolve()), 1);
    await following;
    clearInterval(rest);
    expect(listener.saved).toEqual(["unacknowledged", "returned-unacknowledged"]);
  });

  test("does not wait for a disk that hangs once it is told to stop", async () => {
    const interruption = new AbortController();
    const store = new SlowStore("00112233aabbccdd");
    const { gateway, changes } = gatewayOf([], store, interruption.signal);
    const following = gateway.follow([volts([11.5])]);
    interruption.abort();
    expect(await following).toEqual([]);
    expect(changes).toEqual(["unacknowledged"]);
  });

  test("says an answer was taken only when it is saved", async () => {
    const store = new SlowStore("00112233aabbccdd");
    const { gateway } = gatewayOf([], store);
    const rest = setInterval(() => store.waiting.forEach(({ resolve }) => resolve()), 1);
    await gateway.follow([volts([11.5])]);
    clearInterval(rest);
    let taken = false;
    const answer = {
      kind: "acknowledge",
      tag: "battery-low",
      subject: "0",
      occurrence: 1,
    } as const;
    const answering = gateway.answer({ ...answer, who: "Ellen" }, false).then((outcome) => {
      taken = outcome.accepted;
    });
    await Promise.resolve();
    expect(taken).toBe(false);
    store.waiting.at(-1)?.resolve();
    await answering;
    expect(taken).toBe(true);
    expect(await gateway.answer({ ...answer, who: "Ellen" }, false)).toMatchObject({
      accepted: false,
    });
  });

  test("hands a change to the disk before an outlet keeps anything of that turn", async () => {
    const kept: string[] = [];
    class NotingStore extends MemoryStore {
      override commit(turn: Turn): Commit {
        kept.push(...(turn.changes ?? []).map(({ to }) => to));
        kept.push(
          ...(turn.documents ?? []).filter(({ kind }) => kind === "fact").map(({ key }) => key),
        );
        return super.commit(turn);
      }
    }
    const store = new NotingStore("00112233aabbccdd");
    const outlet: Outlet = {
      turn: () => void store.commit({ documents: [{ kind: "fact", key: "outlet", text: "1" }] }),
      stop: () => Promise.resolve(),
    };
    await gatewayOf([outlet], store).gateway.follow([volts([11])]);
    expect(kept.slice(0, 2)).toEqual(["unacknowledged", "outlet"]);
  });

  test("keeps what a person says of the boat's condition, and begins with it again", async () => {
    const store = new MemoryStore("00112233aabbccdd");
    const { gateway } = gatewayOf([], store);
    await gateway.setCondition("laid-up");
    await gateway.setCondition("winterised");
    expect((await readKnowledge(store)).boatState).toEqual({
      condition: "laid-up",
      winterised: true,
    });
  });

  test("keeps at once where she lay when a person said that she is anchored", async () => {
    const store = new MemoryStore("00112233aabbccdd");
    const drags = `alarms:
  - { tag: drags, title: Drags, priority: alarm, moved: { from: anchor, radius: 40 m } }
`;
    const { gateway } = gatewayOf([], store, undefined, drags);
    await gateway.follow([messages(129025, [{ latitude: 50.4, longitude: -7.9 }])]);
    await gateway.setCondition("anchored");
    const kept = (await store.documents("alarm-memory")).get("drags/boat") ?? "{}";
    expect(JSON.parse(kept)).toMatchObject({ measure: { anchor: [50.4, -7.9] } });
  });

  test("at the end says what the disk never took, after every outlet was closed", async () => {
    const listener = new Listener();
    const store = new SlowStore("00112233aabbccdd");
    const { gateway } = gatewayOf([listener], store);
    const closing = gateway.close();
    store.waiting[0].reject(new StoreError("The state folder cannot be written now."));
    await expect(closing).rejects.toThrow("The state folder cannot be written now.");
    expect(listener.stopped).toBe(true);
  });
});
