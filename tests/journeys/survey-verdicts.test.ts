import { describe, expect, test } from "vitest";
import { survey } from "../../src/commands/survey.ts";
import { surveyReportSchema } from "../../src/survey/report-schema.ts";
import { inside } from "../support/inside.ts";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";

/** What `survey --json` says of recordings or other inputs. */
async function surveyed(folder: string, ...typed: readonly string[]) {
  const { code, error, out } = await inside(survey, [...typed, "--json"], folder);
  expect([code, error]).toEqual([0, ""]);
  return surveyReportSchema.loose().parse(JSON.parse(out));
}

describe("verdicts", () => {
  const verdictOf = async (recording: SpokenRecording, name: string, ...typed: string[]) => {
    const folder = ownFolder({ "trip.log": recording.text });
    const { signals } = await surveyed(folder, "trip.log", ...typed);
    return signals.find((signal) => signal.name === name);
  };
  const oil = "engine/0/oil-pressure";

  test("situation 5: never a value is sent as not available", async () => {
    const recording = new SpokenRecording().engine(0, 30, { speed: 1500 });
    expect(await verdictOf(recording, oil)).toMatchObject({
      verdict: "not-available",
      messages: 60,
      notAvailable: 60,
      cause: "The device is talking; look at its sensor, the wire or its settings, " +
        "unless that part is not fitted.",
    });
  });

  test("what stays away for a while and comes again is told, and no silence of the whole bus", async () => {
    const speaking = (away: (second: number) => boolean, dead: (second: number) => boolean) => {
      const recording = new SpokenRecording();
      for (let second = 0; second < 90; second++) {
        // At another beat after the bus was dead: else it was the clock that was set.
        const at = dead(20) && second >= 40 ? second + 0.3 : second;
        if (!away(second)) recording.say(at, 127508, { instance: 0, voltage: 12.6 }, 9);
        if (!dead(second)) recording.engine(at, at + 1, { speed: 700, oil: 45 });
      }
      return recording;
    };
    const within = (from: number, to: number) => (second: number) => second >= from && second < to;
    const loose = speaking((s) => within(20, 32)(s) || within(60, 67)(s), () => false);
    const voltage = "battery/0/voltage";
    expect(await verdictOf(loose, voltage)).toMatchObject({
      verdict: "talking",
      cause:
        "Not heard in between, 2 times, at most for 13 s, while others spoke: switched off, or " +
        "a loose plug or supply.",
    });
    expect(await verdictOf(loose, "engine/0/speed")).toMatchObject({ cause: "" });
    const dead = speaking(within(20, 40), within(20, 40));
    expect(await verdictOf(dead, voltage)).toMatchObject({ verdict: "talking", cause: "" });
  });

  test("situation 5: one value at two speeds is frozen", async () => {
    const recording = new SpokenRecording().engine(0, 40, { speed: 1500, oil: 45 })
      .engine(40, 80, { speed: 1810, oil: 45 });
    expect((await verdictOf(recording, oil))?.verdict).toBe("frozen");
  });

  test("situation 5: it stays frozen when the engine is stopped", async () => {
    const recording = new SpokenRecording().engine(0, 40, { speed: 1500, oil: 45 })
      .engine(40, 80, { speed: 1810, oil: 45 }).engine(80, 100, { speed: 0, oil: 45 });
    expect((await verdictOf(recording, oil))?.verdict).toBe("frozen");
  });

  test.each([
    ["at a steady speed", new SpokenRecording().engine(0, 80, { speed: 1500, oil: 45 })],
    [
      "while the speed changes by less than a fifth",
      new SpokenRecording().engine(0, 40, { speed: 1500, oil: 45 })
        .engine(40, 80, { speed: 1790, oil: 45 }),
    ],
    [
      "for less than a minute",
      new SpokenRecording().engine(0, 30, { speed: 1500, oil: 45 })
        .engine(30, 59, { speed: 2500, oil: 45 }),
    ],
    [
      "until it moves by a count",
      new SpokenRecording().engine(0, 40, { speed: 1500, oil: 45 })
        .engine(40, 80, { speed: 2500, oil: 45 }).engine(80, 81, { speed: 2500, oil: 46 }),
    ],
    [
      "while the engine stands still",
      new SpokenRecording().engine(0, 40, { speed: 0, oil: 0 })
        .engine(40, 80, { speed: 200, oil: 0 }),
    ],
    [
      "since the engine was stopped and ran down",
      new SpokenRecording().engine(0, 40, { speed: 1500, oil: 45 })
        .engine(40, 41, { speed: 1200, oil: 0 }).engine(41, 42, { speed: 700, oil: 0 })
        .engine(42, 120, { speed: 0, oil: 0 }),
    ],
    [
      "before the engine is started",
      new SpokenRecording().engine(0, 80, { speed: 0, oil: 0 })
        .engine(80, 81, { speed: 600, oil: 0 }).engine(81, 82, { speed: 800, oil: 0 }),
    ],
  ])("one value %s is no more than talking", async (_, recording) => {
    expect((await verdictOf(recording, oil))?.verdict).toBe("talking");
  });

  test("zero while running is implausible: a shorted wire, or no ground", async () => {
    const recording = new SpokenRecording().engine(0, 30, { speed: 1500, oil: 0 });
    expect(await verdictOf(recording, oil)).toMatchObject({
      verdict: "implausible",
      cause: "Zero while running: commonly a shorted wire, or no ground at the sender.",
    });
  });

  test("oil that comes up late after a start is plausible", async () => {
    const recording = new SpokenRecording().engine(0, 8, { speed: 700, oil: 0 })
      .engine(8, 30, { speed: 700, oil: 40 });
    expect((await verdictOf(recording, oil))?.verdict).toBe("talking");
  });

  test("full scale all the time is implausible: an open wire", async () => {
    const recording = new SpokenRecording().engine(0, 30, { speed: 1500, oil: 150 });
    expect(await verdictOf(recording, oil)).toMatchObject({
      verdict: "implausible",
      cause: "Full scale: commonly an open wire to the sender.",
    });
  });

  test("what fell silent before the end is not heard", async () => {
    const recording = new SpokenRecording().engine(0, 30, { speed: 1500, oil: 45 });
    recording.say(60, 127508, { instance: 0, voltage: 12.6, current: 1, temperature: null });
    expect((await verdictOf(recording, oil))?.verdict).toBe("not-heard");
  });

  test("what the boat file names and nothing sends is missing", async () => {
    const folder = ownFolder({
      "boat.yaml": "engines: { port: { instance: 0 }, starboard: { instance: 1 } }\n",
      "trip.log": new SpokenRecording().engine(0, 5, { speed: 1500, oil: 45 }).text,
    });
    const { missing } = await surveyed(folder, "trip.log", "--boat", "boat.yaml");
    expect(missing).toEqual(["engine/starboard"]);
    const { out } = await inside(survey, ["trip.log", "--boat", "boat.yaml"], folder);
    expect(out).toContain("engine/starboard: not heard. The boat file names it");
    expect(out).toMatch(/switch the\s+network off and on while I listen/);
  });
});
