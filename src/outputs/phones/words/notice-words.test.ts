import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { AlarmChange, AlarmStatus } from "../../../alarms/change.ts";
import type { Priority } from "../../../alarms/words.ts";
import { HOUR, type Micros, MINUTE, parseIsoTime } from "../../../ground/time.ts";
import { type ItemKind, type NoticeItem, raisingId } from "../telling/notice.ts";
import { LOCK_SCREEN } from "./lock-screen.ts";
import { noticeWords, type Wording } from "./notice-words.ts";

const AFTERNOON: Micros = parseIsoTime("2026-06-14T13:31:20Z") ?? 0;

const raised: AlarmChange = {
  tag: "oil-pressure-low-under-load",
  subject: "port",
  occurrence: 2,
  from: "normal",
  to: "unacknowledged",
  hold: "none",
  priority: "alarm",
  signal: "engine/port/oil-pressure",
  value: 75_842,
  unit: "Pa",
  setpoint: 124_106,
  time: AFTERNOON,
  why: "Port oil pressure 11 psi was under its limit of 18 psi at 1,800 rpm for 3 s.",
  by: "",
};

const status: AlarmStatus = {
  tag: raised.tag,
  subject: "port",
  title: "Low oil pressure under load",
  state: "unacknowledged",
  hold: "none",
  occurrence: 2,
  priority: "alarm",
  signal: raised.signal,
  value: 75_842,
  unit: "Pa",
  setpoint: 124_106,
  raised: AFTERNOON,
  changed: AFTERNOON,
  message: "port oil pressure 11 psi at 1,800 rpm, limit 18 psi",
  consequence: "The bearings run dry within a minute or two.",
  response: {
    aboard: "Bring that engine to idle and look at the helm gauge.",
    ashore: "Call the number on file.",
  },
};

const returned: AlarmChange = {
  ...raised,
  from: "unacknowledged",
  to: "returned-unacknowledged",
  time: AFTERNOON + 5 * MINUTE,
  why: "Port oil pressure 25 psi was back inside its limit of 18 psi for 10 s.",
};

const wording: Wording = {
  boat: "Hazel Comfort",
  timeZone: "Europe/London",
  whereabouts: "aboard",
  now: AFTERNOON + MINUTE,
  statusOf: ({ tag }) => tag === raised.tag ? status : undefined,
};

const gone = { ...wording, statusOf: () => undefined };

function item(kind: ItemKind, more: Partial<NoticeItem> = {}): NoticeItem {
  const over = kind === "over" || kind === "was" ? returned : undefined;
  const change = more.change ?? raised;
  const id = raisingId(change);
  return { raising: id, number: 1, change, over, kind, after: "", isUnsaved: false, ...more };
}

/** Another alarm, of which only its title is told. */
function other(title: string, priority: Priority = "warning") {
  const change: AlarmChange = { ...raised, tag: title, subject: "boat", priority };
  return { item: item("raised", { change }), status: { ...status, tag: title, title } };
}

describe("an alarm that was raised", () => {
  test("says which boat, what, since when and what to do, in the owner's time", () => {
    expect(noticeWords([item("raised")], wording)).toBe(
      "Hazel Comfort, ALARM: port oil pressure 11 psi at 1,800 rpm, limit 18 psi, since 14:31. " +
        "Bring that engine to idle and look at the helm gauge.",
    );
  });

  test("tells somebody ashore what somebody ashore can do", () => {
    expect(noticeWords([item("raised")], { ...wording, whereabouts: "ashore" }))
      .toMatch(/since 14:31\. Call the number on file\.$/);
  });

  test("that has risen anew meanwhile is told with its own numbers, not the newer ones", () => {
    const statusOf = () => ({ ...status, occurrence: 3, message: "9 psi" });
    expect(noticeWords([item("raised")], { ...wording, statusOf })).toContain(
      "Port oil pressure 11 psi was under its limit of 18 psi at 1,800 rpm for 3 s, since 14:31.",
    );
  });

  test("of a rule that is gone is told all the same", () => {
    expect(noticeWords([item("raised")], gone)).toBe(
      "Hazel Comfort, ALARM: Port oil pressure 11 psi was under its limit of 18 psi at 1,800 rpm " +
        "for 3 s, since 14:31.",
    );
  });

  test("is told since it began, where that was before it was known", () => {
    const statusOf = () => ({ ...status, raised: AFTERNOON - 10 * MINUTE });
    expect(noticeWords([item("raised")], { ...wording, statusOf })).toContain("since 14:21.");
  });

  test("on another day is told with its date", () => {
    expect(noticeWords([item("raised")], { ...wording, now: AFTERNOON + 12 * HOUR }))
      .toContain("since 14:31 on 14 June.");
  });

  test("says that nobody has answered, or who has not", () => {
    expect(noticeWords([item("again")], wording))
      .toMatch(/^Hazel Comfort, ALARM, not yet answered: port oil pressure/);
    expect(noticeWords([item("passed-on", { after: "Ellen" })], wording))
      .toMatch(/^Hazel Comfort, ALARM, Ellen has not answered: port oil pressure/);
  });

  test("says that it could not be kept", () => {
    expect(noticeWords([item("raised", { isUnsaved: true })], wording))
      .toMatch(/ The boat's computer could not save this\.$/);
  });

  test("is short enough for a lock screen, however long the advice", () => {
    const long = "Bring that engine to idle. Look at the helm gauge. Stop it if both agree and " +
      "it is safe to lose it. Then check the level and look below for oil.";
    const response = { aboard: long, ashore: long };
    const text = noticeWords([item("raised")], {
      ...wording,
      statusOf: () => ({ ...status, response }),
    });
    expect(text.length).toBeLessThanOrEqual(LOCK_SCREEN);
    expect(text).toMatch(/and it is safe to lose it\.$/);
  });

  test("shows that there is more where the first sentence of the advice is too long", () => {
    const long = "Somebody who is near should look at her before the tide turns because ".repeat(3);
    const response = { aboard: long, ashore: long };
    const text = noticeWords([item("raised")], {
      ...wording,
      statusOf: () => ({ ...status, response }),
    });
    expect(text.length).toBeLessThanOrEqual(LOCK_SCREEN);
    expect(text).toMatch(/Somebody who is near .* …$/);
  });
});

describe("several alarms", () => {
  const others = [
    ...[other("Low house voltage"), other("Charger off"), other("Much too wordy title of a rule")],
    ...[other("Hot alternator"), other("Two senders of one thing")],
  ];
  const all = [...others.map((one) => one.status), status];
  const statusOf = ({ tag }: AlarmChange) => all.find((one) => one.tag === tag);

  test("are one message: the gravest whole, with what to do, and the others by title", () => {
    expect(noticeWords([item("raised"), others[0].item], { ...wording, statusOf })).toBe(
      "Hazel Comfort, ALARM: port oil pressure 11 psi at 1,800 rpm, limit 18 psi, since 14:31. " +
        "Also low house voltage. Bring that engine to idle and look at the helm gauge.",
    );
  });

  test("that are many are counted", () => {
    const items = [item("raised"), ...others.map((one) => one.item)];
    const text = noticeWords(items, { ...wording, statusOf, whereabouts: "ashore" });
    expect(text).toMatch(/^Hazel Comfort, 1 alarm, 5 warnings. The gravest, ALARM: port oil/);
    expect(text).toMatch(
      /Also low house voltage; charger off; and 3 more\. Call the number on file\.$/,
    );
    expect(text.length).toBeLessThanOrEqual(LOCK_SCREEN);
  });

  test("are cut at a whole one, also where the disk has taken none of them", () => {
    const items = [
      item("raised", { isUnsaved: true }),
      ...others.slice(0, 3).map((one) => one.item),
    ];
    expect(noticeWords(items, { ...wording, statusOf, whereabouts: "ashore" })).toBe(
      "Hazel Comfort, 1 alarm, 3 warnings. The gravest, ALARM: port oil pressure 11 psi at " +
        "1,800 rpm, limit 18 psi, since 14:31. Also 3 more. Call the number on file. " +
        "The boat's computer could not save this.",
    );
    expect(noticeWords(items, { ...wording, statusOf: gone.statusOf }).length)
      .toBeLessThanOrEqual(LOCK_SCREEN);
  });

  test("are never more than a lock screen, and none of them is left uncounted", () => {
    fc.assert(fc.property(
      fc.array(fc.string({ minLength: 3, maxLength: 60, unit: fc.constantFrom(..."abc ") }), {
        minLength: 1,
        maxLength: 12,
      }),
      fc.boolean(),
      (titles, isUnsaved) => {
        const more = titles.map((title, i) => other(`${i}${title.trim()}`));
        const known = [...more.map((one) => one.status), status];
        const text = noticeWords(
          [item("raised", { isUnsaved }), ...more.map((one) => one.item)],
          { ...wording, statusOf: ({ tag }) => known.find((one) => one.tag === tag) },
        );
        expect(text.length).toBeLessThanOrEqual(LOCK_SCREEN);
        const also = / Also (.*?)\. |Also (.*)\.$/.exec(text)?.slice(1).find(Boolean) ?? "";
        const named = also.split("; ").filter((one) => !/^(and )?\d+ more$/.test(one)).length;
        expect(named + Number(/(\d+) more$/.exec(also)?.[1] ?? 0)).toBe(more.length);
      },
    ));
  });

  test("that are over are listed", () => {
    const over = { ...others[0].item, kind: "over", over: returned } as const;
    expect(noticeWords([item("over"), over], { ...wording, statusOf })).toBe(
      "Hazel Comfort, over: low oil pressure under load, port; low house voltage.",
    );
    expect(noticeWords([item("raised"), over], { ...wording, statusOf }))
      .toContain("Also low house voltage (over).");
  });
});

describe("an alarm that is over", () => {
  test("says so, when, why, and that nobody has answered it", () => {
    expect(noticeWords([item("over")], wording)).toBe(
      "Hazel Comfort, ALARM over at 14:36: low oil pressure under load, port. " +
        "Port oil pressure 25 psi was back inside its limit of 18 psi for 10 s. " +
        "It is not answered yet.",
    );
  });

  test("says nothing about an answer when it was answered", () => {
    expect(noticeWords([item("over", { over: { ...returned, to: "normal" } })], wording))
      .not.toContain("answered");
  });

  test("of a rule that is gone is called by its signal", () => {
    expect(noticeWords([item("over")], gone))
      .toContain("over at 14:36: engine port oil pressure. Port");
  });

  test("before anybody could be told is one line of what was", () => {
    expect(noticeWords([item("was")], wording)).toBe(
      "Hazel Comfort, ALARM over: low oil pressure under load, port, from 14:31 to 14:36. " +
        "Port oil pressure 11 psi was under its limit of 18 psi at 1,800 rpm for 3 s.",
    );
  });
});
