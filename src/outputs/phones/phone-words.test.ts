import { describe, expect, test } from "vitest";
import type { AlarmChange, AlarmStatus } from "../../alarms/change.ts";
import { HOUR, type Micros, MINUTE, parseIsoTime } from "../../ground/time.ts";
import { boatWords, type PhoneWording, raisedWords, returnedWords } from "./phone-words.ts";

const AFTERNOON: Micros = parseIsoTime("2026-06-14T13:31:20Z") ?? 0;

const wording: PhoneWording = {
  boat: "Hazel Comfort",
  timeZone: "Europe/London",
  whereabouts: "aboard",
  now: AFTERNOON + MINUTE,
};

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

describe("an alarm that was raised", () => {
  test("says which boat, what, since when and what to do, in the owner's time", () => {
    expect(raisedWords(raised, status, wording)).toBe(
      "Hazel Comfort, ALARM: port oil pressure 11 psi at 1,800 rpm, limit 18 psi, since 14:31. " +
        "Bring that engine to idle and look at the helm gauge.",
    );
  });

  test("tells somebody ashore what somebody ashore can do", () => {
    expect(raisedWords(raised, status, { ...wording, whereabouts: "ashore" }))
      .toMatch(/since 14:31\. Call the number on file\.$/);
  });

  test("that has risen anew meanwhile is told with its own numbers, not the newer ones", () => {
    expect(raisedWords(raised, { ...status, occurrence: 3, message: "9 psi" }, wording)).toContain(
      "Port oil pressure 11 psi was under its limit of 18 psi at 1,800 rpm for 3 s, since 14:31.",
    );
  });

  test("of a rule that is gone is told all the same", () => {
    expect(raisedWords(raised, undefined, wording)).toBe(
      "Hazel Comfort, ALARM: Port oil pressure 11 psi was under its limit of 18 psi at 1,800 rpm " +
        "for 3 s, since 14:31.",
    );
  });

  test("on another day is told with its date", () => {
    expect(raisedWords(raised, status, { ...wording, now: AFTERNOON + 12 * HOUR }))
      .toContain("since 14:31 on 14 June.");
  });
});

describe("an alarm that is over", () => {
  test("says so, when, why, and that nobody has answered it", () => {
    expect(returnedWords(returned, status, wording)).toBe(
      "Hazel Comfort, ALARM over at 14:36: low oil pressure under load, port. " +
        "Port oil pressure 25 psi was back inside its limit of 18 psi for 10 s. " +
        "It is not answered yet.",
    );
  });

  test("says nothing about an answer when it was answered", () => {
    expect(returnedWords({ ...returned, to: "normal" }, status, wording))
      .not.toContain("answered");
  });

  test("of a rule that is gone is called by its signal", () => {
    expect(returnedWords(returned, undefined, wording))
      .toContain("over at 14:36: engine port oil pressure. Port");
  });
});

test("a boat's name reads as on her stern", () => {
  expect(boatWords("hazel-comfort")).toBe("Hazel Comfort");
});
