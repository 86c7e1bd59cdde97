import { describe, expect, test } from "vitest";
import { HOUR, MINUTE, SECOND } from "../../../ground/time.ts";
import { ellen, patient, Story, tom, WANTS } from "../../../../tests/support/telling-story.ts";

describe("when nobody answers", () => {
  test("the same person is told again, then the next, and then no more", () => {
    const story = new Story([patient(ellen), patient(tom)]);
    story.raise("oil");
    story.wait(HOUR);
    expect(story.told).toEqual([
      "0:00 Ellen: oil raised",
      "5:00 Ellen: oil again",
      "10:00 Tom: oil passed-on",
      "15:00 Tom: oil again",
    ]);
    expect(story.notices[1].isAgain).toBe(true);
    expect(story.notices[2].items[0].after).toBe("Ellen");
  });

  test.each(["answered", "shelved", "over"])("that ends when the alarm is %s", (how) => {
    const story = new Story([patient(ellen), tom]);
    story.raise("oil");
    story.wait(6 * MINUTE);
    if (how === "answered") story.answer("oil");
    if (how === "shelved") {
      story.change("oil", "unacknowledged", "unacknowledged", { hold: "shelved" });
    }
    if (how === "over") story.end("oil");
    story.wait(HOUR);
    const expected = ["0:00 Ellen: oil raised", "5:00 Ellen: oil again"];
    if (how === "over") expected.push("6:05 Ellen: oil over");
    expect(story.told).toEqual(expected);
  });

  test("nobody is asked on while its rule is taken out, and all go on when that is back", () => {
    const story = new Story([patient(ellen), tom]);
    story.raise("oil");
    story.wait(2 * MINUTE);
    story.gone.add("oil");
    story.wait(2 * HOUR);
    expect(story.told).toEqual(["0:00 Ellen: oil raised"]);
    story.gone.delete("oil");
    story.wait(10 * MINUTE);
    expect(story.told).toEqual([
      "0:00 Ellen: oil raised",
      "123:00 Ellen: oil again",
      "128:00 Tom: oil passed-on",
    ]);
  });

  test("people without a time are told together with the one who comes next", () => {
    const story = new Story([tom, patient(ellen), { name: "Ann", wants: WANTS }]);
    story.raise("oil");
    story.wait(HOUR);
    expect(story.told).toEqual([
      "0:00 Tom: oil raised",
      "0:00 Ellen: oil raised",
      "5:00 Ellen: oil again",
      "10:00 Ann: oil passed-on",
    ]);
  });

  test("a caution is told to who wants it, and nobody is asked about it", () => {
    const story = new Story([{ ...patient(ellen), wants: ["caution"] }, tom]);
    story.change("two-senders", "normal", "acknowledged", { priority: "caution" });
    story.wait(HOUR);
    story.change("two-senders", "acknowledged", "normal", { priority: "caution" });
    story.wait(HOUR);
    expect(story.told).toEqual([
      "0:05 Ellen: two-senders raised",
      "60:05 Ellen: two-senders over",
    ]);
  });

  test("a person who does not want that priority is passed over", () => {
    const story = new Story([patient(ellen), patient({ name: "Ann", wants: ["alarm"] }), tom]);
    story.raise("voltage", "warning");
    story.wait(HOUR);
    expect(story.told.at(-1)).toBe("10:05 Tom: voltage passed-on");
  });

  test("somebody who cannot be reached is not asked again, and the next is told", () => {
    const story = new Story([patient(ellen), tom]);
    story.outcome = (person) => person === "Ellen" ? undefined : "accepted";
    story.raise("oil");
    story.wait(HOUR);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "5:00 Tom: oil passed-on"]);
  });

  test("where every way has refused, the next is told at once", () => {
    const story = new Story([patient(ellen), tom]);
    story.outcome = (person) => person === "Ellen" ? "failed" : "accepted";
    story.raise("oil");
    story.wait(HOUR);
    expect(story.told).toEqual(["0:00 Ellen: oil raised", "0:00 Tom: oil passed-on"]);
  });

  test("a restart goes on with what was left of the time", () => {
    const story = new Story([patient(ellen), tom]);
    story.raise("oil");
    story.wait(4 * MINUTE);
    story.restart();
    story.wait(30 * SECOND);
    expect(story.told).toHaveLength(1);
    story.wait(30 * SECOND);
    expect(story.told[1]).toBe("65:00 Ellen: oil again");
  });
});
