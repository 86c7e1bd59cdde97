import { expect, test, vi } from "vitest";
import { openStore } from "../../src/store/worker-store.ts";
import { killAtWrite } from "../support/kill-at-write.ts";
import { ownFolder } from "../support/own-folder.ts";
import { PhoneService } from "../support/phone-service.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { type Running, start } from "../support/sternfast.ts";

/** The scenario is over in so many writes, or it is too long to be swept. */
const MOST_WRITES = 50;
const waiting = { timeout: 60_000, interval: 5 };

const ruleOf = (tag: string, setpoint: string) =>
  `  - tag: ${tag}
    title: ${tag}
    each: engine
    low: { signal: oil-pressure, setpoint: ${setpoint} }
    priority: alarm
    consequence: The bearings run dry.
    response: { aboard: Stop it., ashore: Call about ${tag}. }
`;

const FIRST = new SpokenRecording().engine(0, 2, { speed: 2500, oil: 9 });
const SECOND = new SpokenRecording(FIRST.begins + 10_000_000).engine(0, 2, { speed: 2500, oil: 6 });
const LATER = new SpokenRecording(FIRST.begins + 60_000_000).engine(0, 2, { speed: 2500, oil: 6 });

test(
  "killed at each write of its store in turn, it loses no alarm and tells none twice but by its key",
  { timeout: 600_000 },
  async () => {
    let writes = 0;
    const sweep = async (): Promise<void> => {
      while (writes < MOST_WRITES) {
        const write = ++writes;
        if (!await liveTwice(write)) return;
      }
      expect.fail(`the scenario has more than ${MOST_WRITES} writes`);
    };
    await Promise.all([sweep(), sweep()]);
    // It was really killed, on the way through all that the store does.
    expect(writes).toBeGreaterThan(10);
  },
);

/** @returns whether the first of the two lives ended at that write */
async function liveTwice(write: number): Promise<boolean> {
  const phone = new PhoneService();
  const raised = (tag: string) =>
    phone.taken.filter(({ message: { about, text } }) => about === "raised" && text.includes(tag));
  const folder = ownFolder({
    "sternfast.yaml": `
input: "-"
rules: oil.yaml
state: state
people:
  - { name: Ellen, wants: [alarm], reach: [{ post: "${phone.url}" }] }
`,
    "oil.yaml": `alarms:\n${ruleOf("oil-low", "10 psi")}${ruleOf("oil-gone", "7 psi")}`,
  });

  const first = await killAtWrite(["run"], folder, write);
  let hasEnded = false;
  void first.process.status.then(() => hasEnded = true);
  for (const [spoken, tag] of [[FIRST, "oil-low"], [SECOND, "oil-gone"]] as const) {
    await say(first, spoken.text);
    await vi.waitUntil(() => hasEnded || raised(tag).length > 0, waiting);
  }
  first.interrupt();
  const { code } = await first.finished();
  expect([130, 137], `how it ended at write ${write}`).toContain(code);
  const wasKilled = code === 137;

  const second = await start(["run"], { folder, input: "piped" });
  await say(second, LATER.text);
  await vi.waitUntil(
    () => raised("oil-low").length > 0 && raised("oil-gone").length > 0,
    waiting,
  );
  second.interrupt();
  expect((await second.finished()).code).toBe(130);

  for (const tag of ["oil-low", "oil-gone"]) {
    const keys = new Set(raised(tag).map(({ key }) => key));
    expect(keys.size, `keys of ${tag}, killed at write ${write}`).toBe(1);
  }
  await expectKept(folder, write);
  return wasKilled;
}

/** Two raisings, each once, in a stream of events without a hole. */
async function expectKept(folder: string, write: number): Promise<void> {
  const store = await openStore(`${folder}/state`);
  const events = await store.eventsAfter(0, 1_000);
  await store.close();
  const about = `killed at write ${write}`;
  expect(events.map(({ number }) => number), about).toEqual([1, 2]);
  const changes = events.map(({ change: { tag, to, occurrence } }) => `${tag} ${occurrence} ${to}`);
  expect(changes.sort(), about).toEqual(["oil-gone 1 unacknowledged", "oil-low 1 unacknowledged"]);
}

/** Nobody reads any more what is said to a program that has been killed. */
async function say(running: Running, text: string): Promise<void> {
  await running.type(text).catch(() => {});
}
