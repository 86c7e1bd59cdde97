import { describe, expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { ROOT, sternfast } from "../support/sternfast.ts";

const BOAT = "engines: { port: { instance: 0, fuel: diesel, rated-speed: 2600 rpm } }\n";
const RULES = `${ROOT}/examples/hazel-comfort/rules/engines.yaml`;

/** What `rehearse` and `run` make of a recording, one line for each change; both say the same. */
async function told(recording: SpokenRecording): Promise<string[]> {
  const folder = ownFolder({ "trip.log": recording.text, "boat.yaml": BOAT });
  const typed = ["trip.log", "--boat", "boat.yaml", "--rules", RULES, "--json"];
  const rehearsed = await sternfast(["rehearse", ...typed, "--answer", "never"], { folder });
  const run = await sternfast(["run", ...typed], { folder });
  expect(run.out).toBe(rehearsed.out);
  return run.out.split("\n").filter((line) => line !== "").map((line) => {
    const { time, tag, subject, to }: Record<string, string> = JSON.parse(line);
    return `${time.slice(14, 19)} ${tag} ${subject} ${to}`;
  });
}

describe("situation 1: two engine gateways at one instance", () => {
  test("one caution and no alarm; the values are uncertain and never averaged", async () => {
    const recording = new SpokenRecording();
    for (let tick = 0; tick < 300; tick++) {
      const [from, to] = [tick / 10, (tick + 1) / 10];
      recording.engine(from, to, { source: 1, speed: 3000, oil: 40 });
      recording.engine(from, to, { source: 2, speed: 700, oil: 3 });
    }
    const changes = await told(recording);
    expect(changes).toEqual([expect.stringMatching(/ two-senders (engine-)?port acknowledged$/)]);

    const folder = ownFolder({ "trip.log": recording.text });
    const { out } = await sternfast(["export", "trip.log"], { folder });
    const speeds = out.split("\r\n").filter((line) => line.includes("/speed,"))
      .map((line) => line.split(",").slice(2).join(" "));
    expect(new Set(speeds)).toEqual(new Set(["3000 1/min good", "3000 1/min uncertain"]));
  });
});

describe("situation 2: the key is turned off", () => {
  test("at idle there is a condition and no alarm", async () => {
    const recording = new SpokenRecording().engine(0, 60, { speed: 650, oil: 40 })
      .say(120, 127508, { instance: 0, voltage: 12.6, current: 0, temperature: null });
    expect(await told(recording)).toEqual([]);
    const folder = ownFolder({ "trip.log": recording.text, "boat.yaml": BOAT });
    const typed = ["export", "trip.log", "--boat", "boat.yaml", "--derived"];
    const { out } = await sternfast(typed, { folder });
    expect(out).toMatch(/10:01:02\.9\d+Z,engine\/port\/condition,stopped-presumed,,good\r\n/);
  });

  test("at 2,500 rpm it is a warning after 5 s", async () => {
    const recording = new SpokenRecording().engine(0, 60, { speed: 2500, oil: 45 })
      .say(120, 127508, { instance: 0, voltage: 12.6, current: 0, temperature: null });
    const changes = await told(recording);
    expect(changes[0]).toBe("01:04 engine-sender-lost port unacknowledged");
    expect(changes.filter((line) => line.endsWith(" unacknowledged"))).toEqual([changes[0]]);
  });
});

describe("situation 4: status words", () => {
  test("of all ones and of all zeros raise nothing", async () => {
    const recording = new SpokenRecording().engine(0, 60, { speed: 650, oil: 40, status: null })
      .engine(60, 120, { speed: 650, oil: 40, status: [] });
    expect(await told(recording)).toEqual([]);
    const folder = ownFolder({ "trip.log": recording.text });
    const { out } = await sternfast(["export", "trip.log"], { folder });
    const bits = out.split("\r\n").filter((line) => line.includes("/status/low-oil-pressure,"))
      .map((line) => line.split(",").slice(2).join(","));
    expect(new Set(bits)).toEqual(new Set([",1,bad", "0,1,good"]));
  });
});
