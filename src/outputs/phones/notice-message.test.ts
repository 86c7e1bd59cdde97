import { describe, expect, test } from "vitest";
import type { AlarmChange } from "../../alarms/change.ts";
import { HOUR, MINUTE } from "../../ground/time.ts";
import { NOON } from "../../../tests/support/told-boat.ts";
import { messageOf, type MessageParts, textNow } from "./notice-message.ts";
import { type ItemKind, type NoticeItem, raisingId } from "./telling/notice.ts";

const CHANGE: AlarmChange = {
  tag: "oil",
  subject: "port",
  occurrence: 3,
  from: "normal",
  to: "unacknowledged",
  hold: "none",
  priority: "alarm",
  signal: "engine/port/oil-pressure",
  value: 75_842,
  unit: "Pa",
  setpoint: 124_106,
  time: NOON,
  why: "Port oil pressure 11 psi was under its limit of 18 psi for 3 s.",
  by: "",
};

const parts: MessageParts = {
  epoch: "00112233aabbccdd",
  timeZone: "Europe/London",
  boatOf: () => "Hazel Comfort",
  statusOf: () => undefined,
  whereabouts: () => "ashore",
  answerAddress: ({ tag, subject, occurrence }, action, person) =>
    `https://boat.example/${tag}/${subject}/${occurrence}/${action}/${person}`,
};

function item(kind: ItemKind, more: Partial<AlarmChange> = {}): NoticeItem {
  const change = { ...CHANGE, ...more };
  const over = kind === "over" || kind === "was" ? { ...change, to: "normal" as const } : undefined;
  return { raising: raisingId(change), number: 7, change, over, kind, after: "", isUnsaved: false };
}

const message = (items: readonly NoticeItem[], more: Partial<MessageParts> = {}) =>
  messageOf({ person: "Ellen", items, isAgain: false }, { ...parts, ...more }, NOON);

describe("the answers that a message offers", () => {
  test("are three to one alarm", () => {
    expect(message([item("raised")]).answers).toEqual([
      {
        action: "have-it",
        words: "I have it",
        address: "https://boat.example/oil/port/3/have-it/Ellen",
      },
      {
        action: "acknowledge",
        words: "I know of it",
        address: "https://boat.example/oil/port/3/acknowledge/Ellen",
      },
      {
        action: "shelve",
        words: "Not for an hour",
        address: "https://boat.example/oil/port/3/shelve/Ellen",
      },
    ]);
  });

  test("leave out what would always be refused: an emergency is not put aside from afar", () => {
    const actions = message([item("raised", { priority: "emergency-alarm" })]).answers
      .map(({ action }) => action);
    expect(actions).toEqual(["have-it", "acknowledge"]);
  });

  test("do not offer to shelve where nothing can be shelved", () => {
    const actions = message([item("raised")], { isNeverShelved: true }).answers
      .map(({ action }) => action);
    expect(actions).toEqual(["have-it", "acknowledge"]);
  });

  test("are one to each of several, by its title", () => {
    const items = [item("raised"), item("raised", { signal: "battery/house/voltage" })];
    expect(message(items).answers.map(({ words }) => words)).toEqual([
      "I have it: engine port oil pressure",
      "I have it: battery house voltage",
    ]);
  });

  test.each([
    ["to what is over", [item("over")], {}],
    ["to a caution", [item("raised", { priority: "caution" })], {}],
    ["where no address is known", [item("raised")], { answerAddress: undefined }],
  ])("are none %s", (_, items, more) => {
    expect(message(items, more).answers).toEqual([]);
  });
});

test("a message about several alarms is about no single signal", () => {
  expect(message([item("raised")]).signal).toBe("engine/port/oil-pressure");
  expect(message([item("raised"), item("raised", { tag: "other" })]).signal).toBe("");
});

describe("a message that has waited", () => {
  const stands = { was: [], answeredBy: "" };

  test("says when it was due once it is too old to be new", () => {
    const one = message([item("raised")]);
    expect(textNow(one, stands, 5 * MINUTE, parts, NOON + 5 * MINUTE).text).toBe(one.text);
    expect(textNow(one, stands, 6 * MINUTE, parts, NOON + 6 * MINUTE).text)
      .toBe(`Was due at 12:00 and could not be sent until now: ${one.text}`);
  });

  test("is no longer than a locked phone shows, late and answered too", () => {
    const one = {
      ...message([item("raised")]),
      text: "A sentence of thirty letters. ".repeat(6).trim(),
    };
    const tom = { was: [], answeredBy: "Tom" };
    const { text } = textNow(one, tom, HOUR, parts, NOON + HOUR);
    expect(text.length).toBeLessThanOrEqual(200);
    expect(text).toMatch(/^Was due at .* now: A sentence .* Tom has answered\.$/);
  });

  test("says that it was answered on the page where nobody is named there", () => {
    const one = message([item("raised")]);
    expect(textNow(one, { was: [], answeredBy: "the page" }, MINUTE, parts, NOON).text)
      .toBe(`${one.text} It was answered on the page.`);
  });

  test("says who has answered", () => {
    const one = message([item("raised")]);
    expect(textNow(one, { was: [], answeredBy: "Tom" }, MINUTE, parts, NOON).text)
      .toBe(`${one.text} Tom has answered.`);
  });

  test("says only what was when that is over", () => {
    const one = message([item("raised")]);
    const { text, isOver } = textNow(one, { was: [item("was")], answeredBy: "" }, 0, parts, NOON);
    expect(isOver).toBe(true);
    expect(text).toMatch(/^Hazel Comfort, ALARM over: engine port oil pressure, from 12:00/);
  });
});
