import { BusNames } from "../../src/bus/bus-names.ts";
import type { FrameBatch } from "../../src/bus/frame-batch.ts";
import { emptyCounts, type FrameSource } from "../../src/bus/frame-source.ts";
import { readSettings } from "../../src/commands/settings/settings.ts";
import { readAlarmMemory } from "../../src/commands/watching/alarm-memory.ts";
import { Gateway } from "../../src/commands/watching/gateway.ts";
import { keepKnowledge, readKnowledge } from "../../src/commands/watching/kept-knowledge.ts";
import { realClock } from "../../src/commands/watching/real-clock.ts";
import { openWatchPhones } from "../../src/commands/watching/watch-phones.ts";
import { UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { type Micros, MINUTE } from "../../src/ground/time.ts";
import { openStore } from "../../src/store/worker-store.ts";
import { Watch } from "../../src/watch.ts";
import { rulesOf } from "./hand-made-boat.ts";
import { SpokenRecording } from "./spoken-recording.ts";

/** The two alarms of the story: engine 0 is answered and gets well, engine 1 stays as it is. */
export const SWEPT_TAGS = ["oil-low", "oil-gone"] as const;

const RULES = rulesOf(`alarms:
${
  SWEPT_TAGS.map((tag, instance) =>
    `  - tag: ${tag}
    title: ${tag}
    low: { signal: engine/${instance}/oil-pressure, setpoint: 10 psi }
    priority: alarm
    consequence: The bearings run dry.
    response: { aboard: Stop it., ashore: Call about ${tag}. }
`
  ).join("")
}`);

export interface SweptLife {
  /** So long after the computer's own time; each step of the story takes ten minutes more. */
  readonly later: Micros;
  /** Its state is kept there. */
  readonly state: string;
  /** The phone of the one who is told. */
  readonly phone: string;
  /** Told of each change that is saved, and of an answer that was accepted. */
  readonly say: (line: string) => void;
  /** Resolves when so many raisings of an alarm were told. */
  readonly untilTold: (tag: string, raisings: number) => Promise<void>;
}

/**
 * One life of a boat whose alarms are kept in a real store and told by real phones, through the same
 * gateway as `run`: oil pressure is lost, is told, is answered by a person, and comes back; then it is
 * lost on the other engine. A life that follows an earlier one goes on with what that has kept.
 */
export async function liveSwept({ later, state, phone, say, untilTold }: SweptLife): Promise<void> {
  const store = await openStore(state);
  const computer = realClock();
  let passed = later;
  // What is told within seconds of another message is told together with it.
  const pass = () => passed += 10 * MINUTE;
  const clock = { steady: () => computer.steady() + passed, wall: () => computer.wall() + passed };
  const knowledge = await readKnowledge(store);
  const memory = await readAlarmMemory(store, say);
  const buses = new BusNames();
  const watch = new Watch({
    boat: UNKNOWN_BOAT,
    rules: RULES,
    busNames: buses,
    memory,
    ...knowledge,
  });
  const { settings } = readSettings(
    "sternfast.yaml",
    state,
    `
people:
  - { name: Ellen, wants: [alarm], reach: [{ post: "${phone}" }] }
`,
  );
  const phones = await openWatchPhones({
    ...{ settings, boat: UNKNOWN_BOAT, watch, store, clock },
    say: () => {},
  });
  if (phones === undefined) throw new Error("nobody is told");
  const gateway = new Gateway({
    ...{ watch, store, clock },
    outlets: [keepKnowledge({ watch, buses, store, clock }), phones],
    interrupted: new AbortController().signal,
    onChanges: () => {},
    onTrouble: (error) => say(`trouble ${error.message}`),
  });
  const statusOf = (alarm: string) =>
    watch.alarms.statuses().find(({ tag }) => tag === alarm) ?? { occurrence: 0, state: "normal" };
  const [answered, left] = SWEPT_TAGS;
  async function* batches(): AsyncGenerator<FrameBatch> {
    pass();
    yield engine(0, 9);
    const { occurrence, state } = statusOf(answered);
    await untilTold(answered, occurrence);
    if (state === "unacknowledged") {
      const answer = { kind: "acknowledge", tag: answered, subject: "boat", occurrence } as const;
      await gateway.answer({ ...answer, who: "Ellen" }, true);
      say(`answered ${occurrence}`);
    }
    pass();
    yield engine(0, 50);
    pass();
    yield engine(1, 6);
    await untilTold(left, statusOf(left).occurrence);
  }
  const source: FrameSource = {
    ...{ title: "story", live: false, counts: emptyCounts(), problems: [], batches },
    stop: () => {},
  };
  await gateway.follow([source]);
  await gateway.close();
  say("closed");

  /** An engine that says its oil pressure now, for a second. @param oil psi */
  function engine(instance: number, oil: number): FrameBatch {
    const spoken = new SpokenRecording(clock.wall(), buses);
    for (let tick = 0; tick < 2; tick++) {
      spoken.say(tick / 2, 127489, { instance, "oil-pressure": oil * 6894.757 });
    }
    return spoken.frames.batch;
  }
}
