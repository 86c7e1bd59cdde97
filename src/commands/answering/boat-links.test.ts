import { describe, expect, test } from "vitest";
import { readAnswer } from "../../alarms/answer-token.ts";
import type { Answer } from "../../alarms/change.ts";
import { BUILT } from "../../ground/clock.ts";
import { DAY, HOUR, SECOND } from "../../ground/time.ts";
import { boatLinks } from "./boat-links.ts";
import { LINK_HOLDS, linkAddress } from "./link-address.ts";

const KEY = new Uint8Array(32).fill(1);
const RAISING = { tag: "low-oil", subject: "port", occurrence: 3 };

function links(boat = "dora", sentAt = BUILT, now = BUILT) {
  const answers: { answer: Answer; isAfar: boolean }[] = [];
  const base = "https://boat.example";
  const address = linkAddress({ base, boatOf: () => boat, key: KEY, wall: () => sentAt });
  const token = new URL(address(RAISING, "shelve", "Ellen")).pathname.split("/")[2];
  const made = boatLinks({
    boat: "dora",
    key: KEY,
    statuses: () => [],
    wall: () => now,
    answer(answer, isAfar) {
      answers.push({ answer, isAfar });
      return Promise.resolve({ accepted: true });
    },
  });
  return { ...made, answers, token };
}

describe("the links of a boat", () => {
  test("name the raising and the person, and come from afar", async () => {
    const { look, answer, answers, token } = links();
    const subject = look(token);
    if (!subject.usable) throw new Error(subject.refused);
    expect(subject).toMatchObject({ boat: "Dora", claims: { ...RAISING, person: "Ellen" } });
    await answer(token, subject.claims, "127.0.0.1");
    expect(answers).toEqual([{
      answer: { kind: "shelve", ...RAISING, who: "Ellen", length: HOUR },
      isAfar: true,
    }]);
  });

  test("hold for three days", () => {
    expect(links("dora", BUILT, BUILT + LINK_HOLDS).look(links().token).usable).toBe(true);
    const late = links("dora", BUILT, BUILT + LINK_HOLDS + SECOND);
    expect(late.look(late.token)).toEqual({
      usable: false,
      refused: "That link is too old to be used. Nothing was changed.",
    });
  });

  test("that were made before the clock was set can be used once it is", () => {
    const { token } = links("dora", HOUR);
    expect(links("dora", BUILT, BUILT + 300 * DAY).look(token).usable).toBe(true);
  });

  test("of another boat are none of hers, even with her key", () => {
    const { look, token } = links("ida");
    expect(look(token)).toEqual({ usable: false, refused: "That link is of another boat." });
    expect(readAnswer(token, KEY, HOUR).read).toBe(true);
  });
});
