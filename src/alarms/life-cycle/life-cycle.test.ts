import { describe, expect, test } from "vitest";
import { IDLE } from "./delay.ts";
import { Found, Kleene } from "./kleene.ts";
import {
  type AlarmState,
  type Judged,
  type Manner,
  NEVER_RAISED,
  nextDue,
  type Observation,
  step,
} from "./life-cycle.ts";

const PROMPT: Manner = { onDelay: 0, offDelay: 0, asksForAnswer: true };

function judged(found: Found, watching: Kleene = Kleene.yes, now = 0): Judged {
  return { kind: "judged", found, watching, lost: false, oldAge: 10, from: now };
}

function answered(occurrence: number): Observation {
  return { kind: "answered", occurrence, who: "Ann" };
}

const ACTIVE = judged(Found.active);
const CLEAR = judged(Found.clear);

function after(observations: readonly Observation[], manner: Manner = PROMPT): AlarmState {
  return observations.reduce(
    (state, observation) => step(state, observation, 0, manner).state,
    NEVER_RAISED,
  );
}

/**
 * The moves of ANSI/ISA-18.2 (IEC 62682), states A to D, as published with OPC 10000-9 (v1.05)
 * §4.8, §5.8 and annex E.3.
 */
describe("the published moves", () => {
  const moves: [string, Observation[], Observation, string][] = [
    ["normal, the condition comes", [], ACTIVE, "unacknowledged"],
    ["unacknowledged, a person answers", [ACTIVE], answered(1), "acknowledged"],
    ["unacknowledged, the condition goes", [ACTIVE], CLEAR, "returned-unacknowledged"],
    ["acknowledged, the condition goes", [ACTIVE, answered(1)], CLEAR, "normal"],
    ["returned, a person answers", [ACTIVE, CLEAR], answered(1), "normal"],
    ["returned, the condition comes again", [ACTIVE, CLEAR], ACTIVE, "unacknowledged"],
  ];
  test.each(moves)("%s", (_, before, observation, state) => {
    const from = after(before);
    const { state: to, transitions } = step(from, observation, 0, PROMPT);
    expect(to.name).toBe(state);
    expect(transitions).toMatchObject([{ from: from.name, to: state }]);
  });
});

describe("an alarm", () => {
  test("counts each raising, and one that comes again is a new one", () => {
    expect(after([ACTIVE, CLEAR, ACTIVE]).occurrence).toBe(2);
    expect(after([ACTIVE, CLEAR, answered(1), ACTIVE]).occurrence).toBe(2);
  });

  test("is not moved by an answer to another raising, nor by a second one", () => {
    for (const occurrence of [0, 1, 3]) {
      const state = after([ACTIVE, CLEAR, ACTIVE]);
      expect(step(state, answered(occurrence), 0, PROMPT)).toEqual({ state, transitions: [] });
    }
    const state = after([ACTIVE, answered(1)]);
    expect(step(state, answered(1), 0, PROMPT)).toEqual({ state, transitions: [] });
  });

  test("says who answered", () => {
    expect(step(after([ACTIVE]), answered(1), 0, PROMPT).transitions[0].by).toBe("Ann");
  });

  test("that is a caution asks for no answer", () => {
    const caution = { ...PROMPT, asksForAnswer: false };
    const raised = after([ACTIVE], caution);
    expect(raised.name).toBe("acknowledged");
    expect(step(raised, answered(1), 0, caution).transitions).toEqual([]);
    expect(after([ACTIVE, CLEAR], caution).name).toBe("normal");
  });

  test("neither rises nor returns while the answer is unknown", () => {
    const unknown = judged(Found.unknown);
    expect(after([unknown]).name).toBe("normal");
    expect(after([ACTIVE, unknown]).name).toBe("unacknowledged");
    expect(after([judged(Found.active, Kleene.unknown)]).name).toBe("normal");
  });

  test("returns when its rule no longer watches, though its test is active or unknown", () => {
    expect(after([ACTIVE, judged(Found.active, Kleene.no)]).name).toBe("returned-unacknowledged");
    expect(after([ACTIVE, judged(Found.unknown, Kleene.no)]).name).toBe("returned-unacknowledged");
  });

  test("stays raised in its deadband", () => {
    expect(after([ACTIVE, judged(Found.deadband)]).name).toBe("unacknowledged");
    expect(after([judged(Found.deadband)]).name).toBe("normal");
  });
});

describe("the delays of an alarm", () => {
  const manner: Manner = { onDelay: 3, offDelay: 10, asksForAnswer: true };

  function at(state: AlarmState, now: number, found: Found, watching: Kleene = Kleene.yes) {
    return step(state, judged(found, watching, now), now, manner).state;
  }

  test("raise it at the due time and return it after the off-delay", () => {
    let state = at(NEVER_RAISED, 100, Found.active);
    expect([state.name, nextDue(state)]).toEqual(["normal", 103]);
    state = at(state, 103, Found.active);
    expect(state.name).toBe("unacknowledged");
    state = at(state, 110, Found.clear);
    expect([state.name, nextDue(state)]).toEqual(["unacknowledged", 120]);
    expect(at(state, 120, Found.clear).name).toBe("returned-unacknowledged");
  });

  test("know no deadband on the way up: one step into it begins the on-delay anew", () => {
    const state = at(at(NEVER_RAISED, 100, Found.active), 102, Found.deadband);
    expect(state).toEqual({ name: "normal", occurrence: 0, raising: IDLE });
  });

  test("begin anew when watching begins", () => {
    let state = at(NEVER_RAISED, 100, Found.active, Kleene.no);
    expect(nextDue(state)).toBe(Infinity);
    state = at(state, 102, Found.active);
    expect(nextDue(state)).toBe(105);
  });

  test("restart on the way back when the value falls back inside", () => {
    let state = at(at(NEVER_RAISED, 100, Found.active), 103, Found.active);
    state = at(state, 110, Found.clear);
    state = at(state, 115, Found.deadband);
    expect(nextDue(state)).toBe(Infinity);
    expect(nextDue(at(state, 116, Found.clear))).toBe(126);
  });
});
