import { describe, expect, test } from "vitest";
import { HOUR, MINUTE } from "../../../ground/time.ts";
import {
  ellen,
  NIGHT,
  patient,
  quiet,
  Story,
  tom,
  WANTS,
} from "../../../../tests/support/telling-story.ts";

describe("quiet hours", () => {
  test("hold back a warning, and tell it in the morning if it still stands", () => {
    const story = new Story([quiet(ellen, "warning")], NIGHT);
    story.raise("voltage", "warning");
    story.raise("oil");
    story.wait(10 * HOUR);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "420:00 Ellen: voltage raised"]);
  });

  test("tell in the morning what was and is over, unless somebody has answered it", () => {
    const story = new Story([quiet(ellen, "warning")], NIGHT);
    story.raise("voltage", "warning");
    story.raise("charger", "warning");
    story.wait(HOUR);
    story.end("voltage", "warning");
    story.answer("charger", "warning");
    story.wait(10 * HOUR);
    expect(story.told).toEqual(["420:00 Ellen: voltage was"]);
  });

  test.each(["normal", "latched-acknowledged"] as const)(
    "tell nothing of what was answered when it was over already (%s)",
    (to) => {
      const story = new Story([quiet(ellen, "warning")], NIGHT);
      story.raise("voltage", "warning");
      story.wait(HOUR);
      const from = to === "normal" ? "returned-unacknowledged" : "latched-unacknowledged";
      story.change("voltage", "unacknowledged", from, { priority: "warning" });
      story.change("voltage", from, to, { priority: "warning", by: "Tom" });
      story.wait(10 * HOUR);
      expect(story.told).toEqual([]);
    },
  );

  test("hold back what the owner says, even an alarm", () => {
    const story = new Story([quiet(ellen, "warning", "alarm")], NIGHT);
    story.raise("oil");
    story.raise("float", "emergency-alarm");
    story.wait(10 * HOUR);
    expect(story.told).toEqual(["0:00 Ellen: float raised", "420:00 Ellen: oil raised"]);
  });

  test("let nobody be asked next: the time begins when the person is told", () => {
    const story = new Story([quiet(patient(ellen), "warning"), tom], NIGHT);
    story.raise("voltage", "warning");
    story.wait(10 * HOUR);
    expect(story.told).toEqual([
      "420:00 Ellen: voltage raised",
      "425:00 Ellen: voltage again",
      "430:00 Tom: voltage passed-on",
    ]);
  });

  test("let an alarm pass at once to the next who is awake, and tell the sleeper in the morning", () => {
    const asleep = quiet(patient(ellen), "warning", "alarm");
    const ann = quiet(patient({ name: "Ann", wants: WANTS }), "alarm");
    const story = new Story([asleep, ann, patient(tom)], NIGHT);
    story.raise("oil");
    story.wait(10 * HOUR);
    expect(story.told).toEqual([
      "0:00 Tom: oil raised",
      "5:00 Tom: oil again",
      "420:00 Ellen: oil raised",
    ]);
  });

  test("that began after the first message do not hold up the next person", () => {
    const story = new Story([quiet(patient(ellen), "alarm"), tom], NIGHT - 123 * MINUTE);
    story.raise("oil");
    story.wait(HOUR);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "5:00 Tom: oil passed-on"]);
  });

  test("hold an alarm where nobody is awake, until the first is", () => {
    const early = { ...quiet(tom), quiet: { from: 23 * 60, to: 6 * 60, holds: WANTS } };
    const story = new Story([quiet(patient(ellen), "alarm"), early], NIGHT);
    story.raise("oil");
    story.wait(10 * HOUR);
    expect(story.told).toEqual(["360:00 Tom: oil raised", "420:00 Ellen: oil raised"]);
  });

  test("hold nothing back while the computer does not know the time", () => {
    const story = new Story([quiet(ellen, "warning")], 0);
    story.raise("voltage", "warning");
    story.wait(MINUTE);
    expect(story.told).toHaveLength(1);
  });
});
