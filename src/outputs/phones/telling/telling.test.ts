import { describe, expect, test } from "vitest";
import type { AlarmChange } from "../../../alarms/change.ts";
import { HOUR, MINUTE, SECOND } from "../../../ground/time.ts";
import { CHANGE, ellen, Story } from "../../../../tests/support/telling-story.ts";

describe("one message for a situation", () => {
  test("an alarm goes out at once, and its end a few seconds after it came", () => {
    const story = new Story([ellen]);
    story.raise("oil");
    story.wait(MINUTE);
    story.end("oil");
    story.wait(MINUTE);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "1:05 Ellen: oil over"]);
    expect(story.telling.raisings.size).toBe(0);
  });

  test("warnings that come within seconds of each other are one message", () => {
    const story = new Story([ellen]);
    story.raise("voltage", "warning");
    story.wait(2 * SECOND);
    story.raise("charger", "warning");
    story.wait(MINUTE);
    expect(story.told).toEqual(["0:05 Ellen: voltage raised, charger raised"]);
  });

  test("what follows an alarm within seconds is one more message", () => {
    const story = new Story([ellen]);
    story.raise("float", "warning");
    story.raise("oil");
    story.wait(SECOND);
    story.raise("coolant");
    story.wait(SECOND);
    story.raise("voltage", "warning");
    story.wait(MINUTE);
    expect(story.told).toEqual([
      "0:00 Ellen: oil raised, float raised",
      "0:05 Ellen: coolant raised, voltage raised",
    ]);
  });

  test("an emergency waits for nothing", () => {
    const story = new Story([ellen]);
    story.raise("oil");
    story.wait(SECOND);
    story.raise("float", "emergency-alarm");
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "0:01 Ellen: float raised"]);
  });

  test("a warning that is over before it was told is told as what was", () => {
    const story = new Story([ellen]);
    story.raise("voltage", "warning");
    story.wait(SECOND);
    story.end("voltage", "warning");
    story.wait(MINUTE);
    expect(story.told).toEqual(["0:05 Ellen: voltage was"]);
    expect(story.telling.raisings.size).toBe(0);
  });

  test("a higher priority of the same alarm rings anew", () => {
    const story = new Story([ellen]);
    story.raise("bilge", "warning");
    story.wait(MINUTE);
    story.change("bilge", "unacknowledged", "unacknowledged", { priority: "alarm" });
    story.wait(MINUTE);
    expect(story.told).toEqual(["0:05 Ellen: bilge raised", "1:00 Ellen: bilge raised"]);
  });

  test("an alarm that comes again at once is told as that, not as over", () => {
    const story = new Story([ellen]);
    story.raise("oil");
    story.wait(MINUTE);
    story.end("oil");
    story.wait(2 * SECOND);
    story.change("oil", "returned-unacknowledged", "unacknowledged", { occurrence: 2 });
    story.wait(MINUTE);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "1:02 Ellen: oil raised"]);
    expect([...story.telling.raisings.keys()]).toEqual(["oil/aft/2"]);
  });

  test("an alarm that was shelved and is over meanwhile is told to nobody", () => {
    const story = new Story([ellen]);
    story.raise("oil");
    story.wait(MINUTE);
    story.change("oil", "unacknowledged", "unacknowledged", { hold: "shelved" });
    story.change("oil", "unacknowledged", "normal", { hold: "shelved" });
    story.wait(HOUR);
    expect(story.told).toEqual(["0:00 Ellen: oil raised"]);
    expect(story.telling.raisings.size).toBe(0);
  });
});

describe("a flood", () => {
  test("of warnings becomes one summary every two minutes", () => {
    const story = new Story([ellen]);
    for (let i = 1; i <= 30; i++) {
      story.raise(`warning-${i}`, "warning");
      story.wait(6 * SECOND);
    }
    story.wait(10 * MINUTE);
    expect(story.told.map((line) => line.split(", ").length)).toEqual([1, 1, 1, 1, 1, 20, 5]);
    expect(story.told.map((line) => line.split(" ")[0]).slice(4)).toEqual(["0:29", "2:29", "4:29"]);
  });

  test("holds an alarm back for half a minute at most, and an emergency not at all", () => {
    const story = new Story([ellen]);
    for (let i = 1; i <= 6; i++) {
      story.raise(`warning-${i}`, "warning");
      story.wait(6 * SECOND);
    }
    story.raise("oil");
    story.wait(10 * SECOND);
    story.raise("float", "emergency-alarm");
    expect(story.told.at(-1)).toBe("0:46 Ellen: float raised, oil raised, warning-6 raised");
    story.raise("coolant");
    story.wait(MINUTE);
    expect(story.told.at(-1)).toBe("1:16 Ellen: coolant raised");
  });
});

describe("a message on its way", () => {
  test("that is accepted after the alarm is over is followed by its end", () => {
    const story = new Story([ellen]);
    story.outcome = () => undefined;
    story.raise("oil");
    story.wait(MINUTE);
    story.end("oil");
    story.wait(MINUTE);
    expect(story.told).toHaveLength(1);
    story.telling.settle("Ellen", ["oil/aft/1"], "accepted", story.moment);
    story.wait(MINUTE);
    expect(story.told[1]).toBe("2:05 Ellen: oil over");
  });

  test("says who has answered meanwhile", () => {
    const story = new Story([ellen]);
    story.outcome = () => undefined;
    story.raise("oil");
    expect(story.telling.meanwhile(["oil/aft/1"])).toEqual({ was: [], answeredBy: "" });
    story.change("oil", "unacknowledged", "acknowledged", { by: "Tom" });
    expect(story.telling.meanwhile(["oil/aft/1"])).toEqual({ was: [], answeredBy: "Tom" });
  });

  test("that could only say what was needs no end", () => {
    const story = new Story([ellen]);
    story.outcome = () => undefined;
    story.raise("oil");
    story.end("oil");
    expect(story.telling.meanwhile(["oil/aft/1"]).was).toMatchObject([{ kind: "was" }]);
    story.telling.settle("Ellen", ["oil/aft/1"], "accepted-as-was", story.moment);
    story.wait(HOUR);
    expect(story.told).toHaveLength(1);
    expect(story.telling.raisings.size).toBe(0);
  });
});

test("an emergency that was told before it was saved is not told again", () => {
  const story = new Story([ellen]);
  const change: AlarmChange = {
    ...CHANGE,
    tag: "float",
    to: "unacknowledged",
    priority: "emergency-alarm",
  };
  story.telling.take(1, change, story.moment, false);
  expect(story.telling.notices(story.moment)[0].items[0].isUnsaved).toBe(true);
  story.telling.take(1, change, story.moment);
  expect(story.telling.notices(story.moment)).toEqual([]);
});
