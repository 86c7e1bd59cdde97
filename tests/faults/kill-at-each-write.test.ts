import { expect, test, vi } from "vitest";
import { HOUR } from "../../src/ground/time.ts";
import { openStore } from "../../src/store/worker-store.ts";
import type { AlarmEvent } from "../../src/store/store.ts";
import { killAtWrite, killProgramAtWrite } from "../support/kill-at-write.ts";
import { ownFolder } from "../support/own-folder.ts";
import { PhoneService } from "../support/phone-service.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { ROOT, type Running, start } from "../support/sternfast.ts";
import { liveSwept, SWEPT_TAGS } from "../support/swept-boat.ts";

/** The scenario is over in so many writes, or it is too long to be swept. */
const MOST_WRITES = 50;
const PROGRAM = `${ROOT}/tests/support/swept-boat-program.ts`;
const waiting = { timeout: 60_000, interval: 5 };

test(
  "killed at each write of its store in turn, it loses no alarm and no answer, and tells none twice but by its key",
  { timeout: 300_000 },
  async () => {
    let writes = 0;
    let ended = 0;
    const sweep = async (): Promise<void> => {
      while (ended === 0) {
        const write = ++writes;
        expect(write, "the scenario is too long").toBeLessThanOrEqual(MOST_WRITES);
        if (!await liveTwice(write)) ended = write;
      }
    };
    await Promise.all([sweep(), sweep(), sweep()]);
    // It was really killed, on the way through all that the store does.
    expect(writes).toBeGreaterThan(20);
  },
);

/** @returns whether the first of the two lives ended at that write */
async function liveTwice(write: number): Promise<boolean> {
  const about = `killed at write ${write}`;
  const phone = new PhoneService();
  const keysOf = (tag: string) =>
    new Set(
      phone.taken.filter(({ message: { about, text } }) =>
        about === "raised" && text.endsWith(`Call about ${tag}.`)
      ).map(({ key }) => key),
    );
  const folder = ownFolder();
  const state = `${folder}/state`;

  const said: string[] = [];
  const first = await killProgramAtWrite(PROGRAM, [state, phone.url], folder, write);
  let hasEnded = false;
  void first.status.then(() => hasEnded = true);
  const nod = first.stdin.getWriter();
  for await (const line of linesOf(first.stdout)) {
    said.push(line);
    const [word, tag, raisings] = line.split(" ");
    if (word !== "wait") continue;
    void vi.waitUntil(() => hasEnded || keysOf(tag).size >= Number(raisings), waiting)
      // Nobody reads any more what is said to a program that has been killed.
      .then(() => nod.write(new Uint8Array([10])).catch(() => {}));
  }
  const { signal, success } = await first.status;
  const wasKilled = signal === "SIGKILL";
  expect(wasKilled || success, `how it ended at write ${write}`).toBe(true);
  await nod.abort().catch(() => {});
  const kept = await eventsIn(state);

  const answered: string[] = [];
  await liveSwept({
    later: HOUR,
    state,
    phone: phone.url,
    say: (line) => answered.push(line),
    async untilTold(tag, raisings) {
      await vi.waitUntil(() => keysOf(tag).size >= raisings, waiting);
    },
  });
  const events = await eventsIn(state);

  // What was kept is kept, and nothing lies between.
  expect(events.slice(0, kept.length), about).toEqual(kept);
  expect(events.map(({ number }) => number), about).toEqual(events.map((_, i) => i + 1));
  for (const tag of SWEPT_TAGS) {
    const own = events.flatMap(({ change }) => change.tag === tag ? [change] : []);
    // Each change goes on where the one before has ended.
    expect(own.map(({ from }) => from), about).toEqual(
      ["normal", ...own.map(({ to }) => to)].slice(0, -1),
    );
    const raisings = own.filter(({ from, to }) => from === "normal" && to === "unacknowledged");
    expect(raisings.map(({ occurrence }) => occurrence), about)
      .toEqual(raisings.map((_, i) => i + 1));
    // She was told of each of them, and of none by two keys.
    expect(keysOf(tag).size, `${about}: ${tag} told`).toBe(raisings.length);
  }
  const [well, left] = SWEPT_TAGS;
  expect(stateOf(events, well), about).toBe("normal");
  expect(stateOf(events, left), about).toBe("unacknowledged");
  // An answer that was accepted is kept, and asked for no second time.
  const answers = events.filter(({ change }) => change.by === "Ellen").map(({ change }) =>
    `answered ${change.occurrence}`
  );
  const accepted = [...said, ...answered].filter((line) => line.startsWith("answered"));
  expect(answers, about).toEqual([...new Set(answers)]);
  expect(answers, about).toEqual(expect.arrayContaining(accepted));
  return wasKilled;
}

function stateOf(events: readonly AlarmEvent[], tag: string): string | undefined {
  return events.findLast(({ change }) => change.tag === tag)?.change.to;
}

async function eventsIn(state: string): Promise<AlarmEvent[]> {
  const store = await openStore(state);
  const events = await store.eventsAfter(0, 1_000);
  await store.close();
  return [...events];
}

async function* linesOf(stream: ReadableStream<Uint8Array<ArrayBuffer>>): AsyncGenerator<string> {
  let rest = "";
  for await (const part of stream.pipeThrough(new TextDecoderStream())) {
    const lines = (rest + part).split("\n");
    rest = lines.pop() ?? "";
    yield* lines;
  }
}

const RULE = `alarms:
  - tag: oil-low
    title: oil-low
    each: engine
    low: { signal: oil-pressure, setpoint: 10 psi }
    priority: alarm
    consequence: The bearings run dry.
    response: { aboard: Stop it., ashore: Call. }
`;
const LOW = new SpokenRecording().engine(0, 2, { speed: 2500, oil: 9 });
const LATER = new SpokenRecording(LOW.begins + 60_000_000).engine(0, 2, { speed: 2500, oil: 9 });

/** Before the alarm is kept, when it has just been, and when it was just told. */
test.each([8, 14, 19])("the whole of run, killed at write %i, does neither", async (write) => {
  const phone = new PhoneService();
  const folder = ownFolder({
    "sternfast.yaml": `
input: "-"
rules: oil.yaml
state: state
people:
  - { name: Ellen, wants: [alarm], reach: [{ post: "${phone.url}" }] }
`,
    "oil.yaml": RULE,
  });
  const raised = () => phone.taken.filter(({ message: { about } }) => about === "raised");
  const first = await killAtWrite(["run"], folder, write);
  let hasEnded = false;
  void first.process.status.then(() => hasEnded = true);
  await say(first, LOW.text);
  await vi.waitUntil(() => hasEnded || raised().length > 0, waiting);
  first.interrupt();
  expect((await first.finished()).code).toBe(137);

  const second = await start(["run"], { folder, input: "piped" });
  await say(second, LATER.text);
  await vi.waitUntil(() => raised().length > 0, waiting);
  second.interrupt();
  expect((await second.finished()).code).toBe(130);
  expect(new Set(raised().map(({ key }) => key)).size).toBe(1);
  const events = await eventsIn(`${folder}/state`);
  expect(events.map(({ change: { tag, to } }) => `${tag} ${to}`)).toEqual([
    "oil-low unacknowledged",
  ]);
});

/** Nobody reads any more what is said to a program that has been killed. */
async function say(running: Running, text: string): Promise<void> {
  await running.type(text).catch(() => {});
}
