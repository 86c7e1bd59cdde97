import { describe, expect, test } from "vitest";
import { IDLE } from "./delay.ts";
import { Found, Kleene } from "./kleene.ts";
import { type AlarmLife, NEVER_RAISED, nextDue } from "./alarm-life.ts";
import {
  type Judged,
  type Manner,
  type Observation,
  type PersonsMove,
  step,
} from "./life-cycle.ts";

const PROMPT: Manner = {
  onDelay: 0,
  offDelay: 0,
  asksForAnswer: true,
  latches: false,
  againAfter: Infinity,
  risesAfter: Infinity,
};
const LATCHING: Manner = { ...PROMPT, latches: true };

function judged(found: Found, watching: Kleene = Kleene.yes, now = 0): Judged {
  const free = { suppressed: false, covered: false, lost: false };
  return { kind: "judged", found, watching, ...free, oldAge: 10, from: now };
}

function person(kind: PersonsMove["kind"], occurrence: number, until = 1000): PersonsMove {
  return { kind, occurrence, who: "Ann", until };
}

function answered(occurrence: number): PersonsMove {
  return person("answered", occurrence);
}

const ACTIVE = judged(Found.active);
const CLEAR = judged(Found.clear);
const SUPPRESSED: Judged = { ...ACTIVE, suppressed: true };

function after(observations: readonly Observation[], manner: Manner = PROMPT): AlarmLife {
  return observations.reduce(
    (life, observation) => step(life, observation, 0, manner).life,
    NEVER_RAISED,
  );
}

function nameAfter(observations: readonly Observation[], manner: Manner = PROMPT): string {
  return after(observations, manner).state.name;
}

/**
 * The moves of ANSI/ISA-18.2 (IEC 62682), states A to I, as published with OPC 10000-9 (v1.05)
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
    const { life: to, transitions } = step(from, observation, 0, PROMPT);
    expect(to.state.name).toBe(state);
    expect(transitions).toMatchObject([{ from: from.state.name, to: state, hold: "none" }]);
  });

  const latched: [string, Observation[], Observation, string][] = [
    ["unacknowledged, the condition goes", [ACTIVE], CLEAR, "latched-unacknowledged"],
    ["acknowledged, the condition goes", [ACTIVE, answered(1)], CLEAR, "latched-acknowledged"],
    ["latched, a person answers", [ACTIVE, CLEAR], answered(1), "latched-acknowledged"],
    ["latched and answered, a reset", [ACTIVE, CLEAR, answered(1)], person("reset", 1), "normal"],
    ["latched, the condition comes again", [ACTIVE, CLEAR], ACTIVE, "unacknowledged"],
    [
      "latched and answered, it comes again",
      [ACTIVE, CLEAR, answered(1)],
      ACTIVE,
      "unacknowledged",
    ],
  ];
  test.each(latched)("of an alarm that latches: %s", (_, before, observation, state) => {
    const { life, transitions } = step(after(before, LATCHING), observation, 0, LATCHING);
    expect(life.state.name).toBe(state);
    expect(transitions).toHaveLength(1);
  });

  const anyState: [string, Observation[]][] = [
    ["normal", []],
    ["unacknowledged", [ACTIVE]],
    ["acknowledged", [ACTIVE, answered(1)]],
    ["returned-unacknowledged", [ACTIVE, CLEAR]],
    ["latched-unacknowledged", [ACTIVE, CLEAR]],
    ["latched-acknowledged", [ACTIVE, CLEAR, answered(1)]],
  ];
  const holds: [PersonsMove["kind"], PersonsMove["kind"]][] = [
    ["shelved", "unshelved"],
    ["out-of-service", "back-in-service"],
  ];
  for (const [begins, ends] of holds) {
    test.each(anyState)(`any state to ${begins} and back: %s`, (name, before) => {
      const manner = name.startsWith("latched") ? LATCHING : PROMPT;
      const start = after(before, manner);
      const { occurrence } = start.state;
      const held = step(start, person(begins, occurrence), 0, manner);
      expect([held.life.state.name, held.life.hold.kind]).toEqual([name, begins]);
      expect(held.transitions).toMatchObject([{ from: name, to: name, hold: begins, by: "Ann" }]);
      const back = step(held.life, person(ends, occurrence), 0, manner).life;
      const isPresent = ["unacknowledged", "acknowledged"].includes(name);
      expect([back.state.name, back.hold.kind])
        .toEqual([isPresent ? "unacknowledged" : name, "none"]);
    });
  }

  test("normal to suppressed by design and back", () => {
    const suppressed = after([SUPPRESSED]);
    expect([suppressed.state.name, suppressed.hold.kind])
      .toEqual(["normal", "suppressed-by-design"]);
    const back = step(suppressed, ACTIVE, 0, PROMPT).life;
    expect([back.state.name, back.hold.kind]).toEqual(["unacknowledged", "none"]);
  });
});

describe("an alarm", () => {
  test("counts each raising, and one that comes again is a new one", () => {
    expect(after([ACTIVE, CLEAR, ACTIVE]).state.occurrence).toBe(2);
    expect(after([ACTIVE, CLEAR, answered(1), ACTIVE]).state.occurrence).toBe(2);
  });

  test("is not moved by an answer to another raising, nor by a second one", () => {
    for (const occurrence of [0, 1, 3]) {
      const life = after([ACTIVE, CLEAR, ACTIVE]);
      expect(step(life, answered(occurrence), 0, PROMPT)).toEqual({ life, transitions: [] });
    }
    const life = after([ACTIVE, answered(1)]);
    expect(step(life, answered(1), 0, PROMPT)).toEqual({ life, transitions: [] });
  });

  test("says who answered", () => {
    expect(step(after([ACTIVE]), answered(1), 0, PROMPT).transitions[0].by).toBe("Ann");
  });

  test("that is a caution asks for no answer", () => {
    const caution = { ...PROMPT, asksForAnswer: false };
    const raised = after([ACTIVE], caution);
    expect(raised.state.name).toBe("acknowledged");
    expect(step(raised, answered(1), 0, caution).transitions).toEqual([]);
    expect(nameAfter([ACTIVE, CLEAR], caution)).toBe("normal");
  });

  test("neither rises nor returns while the answer is unknown", () => {
    const unknown = judged(Found.unknown);
    expect(nameAfter([unknown])).toBe("normal");
    expect(nameAfter([ACTIVE, unknown])).toBe("unacknowledged");
    expect(nameAfter([judged(Found.active, Kleene.unknown)])).toBe("normal");
  });

  test("returns when its rule no longer watches, though its test is active or unknown", () => {
    expect(nameAfter([ACTIVE, judged(Found.active, Kleene.no)])).toBe("returned-unacknowledged");
    expect(nameAfter([ACTIVE, judged(Found.unknown, Kleene.no)])).toBe("returned-unacknowledged");
  });

  test("stays raised in its deadband", () => {
    expect(nameAfter([ACTIVE, judged(Found.deadband)])).toBe("unacknowledged");
    expect(nameAfter([judged(Found.deadband)])).toBe("normal");
  });
});

describe("an alarm that was raised", () => {
  test("stays, whatever suppresses its rule or covers it: both only prevent a new one", () => {
    for (const prevented of [{ suppressed: true }, { covered: true }]) {
      const life = after([ACTIVE, { ...ACTIVE, ...prevented }]);
      expect([life.state.name, life.hold.kind]).toEqual(["unacknowledged", "none"]);
      expect(nameAfter([{ ...ACTIVE, ...prevented }])).toBe("normal");
      expect(nameAfter([ACTIVE, CLEAR, { ...ACTIVE, ...prevented }]))
        .toBe("returned-unacknowledged");
    }
  });

  test("moves under a hold and is not told, and asks when the hold ends", () => {
    const { life, transitions } = step(after([person("shelved", 0, 50)]), ACTIVE, 10, PROMPT);
    expect([life.state.name, life.state.occurrence]).toEqual(["unacknowledged", 1]);
    expect(transitions).toMatchObject([{ isTold: false, hold: "shelved" }]);
    expect(nextDue(life)).toBe(50);
    const ended = step(life, ACTIVE, 50, PROMPT);
    expect(ended.life.hold.kind).toBe("none");
    expect(ended.transitions).toMatchObject([
      { cause: "released", to: "unacknowledged", occurrence: 1, hold: "none", isTold: true },
    ]);
  });

  test("rises when nobody answers, and only then", () => {
    const manner = { ...PROMPT, risesAfter: 60 };
    const risen = step(after([ACTIVE], manner), ACTIVE, 60, manner);
    expect(risen.transitions).toMatchObject([
      { cause: "risen", from: "unacknowledged", to: "unacknowledged", risen: true, occurrence: 1 },
    ]);
    expect(nextDue(after([ACTIVE, answered(1)], manner))).toBe(Infinity);
    expect(nextDue(after([ACTIVE, CLEAR], manner))).toBe(Infinity);
  });

  test("asks again when it was answered long ago and is still there", () => {
    const manner = { ...PROMPT, againAfter: 60 };
    const again = step(after([ACTIVE, answered(1)], manner), ACTIVE, 60, manner);
    expect(again.transitions).toMatchObject([
      { cause: "again", from: "acknowledged", to: "unacknowledged", occurrence: 1 },
    ]);
  });
});

describe("the delays of an alarm", () => {
  const manner: Manner = { ...PROMPT, onDelay: 3, offDelay: 10 };

  function at(life: AlarmLife, now: number, found: Found, watching: Kleene = Kleene.yes) {
    return step(life, judged(found, watching, now), now, manner).life;
  }

  test("raise it at the due time and return it after the off-delay", () => {
    let life = at(NEVER_RAISED, 100, Found.active);
    expect([life.state.name, nextDue(life)]).toEqual(["normal", 103]);
    life = at(life, 103, Found.active);
    expect(life.state.name).toBe("unacknowledged");
    life = at(life, 110, Found.clear);
    expect([life.state.name, nextDue(life)]).toEqual(["unacknowledged", 120]);
    expect(at(life, 120, Found.clear).state.name).toBe("returned-unacknowledged");
  });

  test("know no deadband on the way up: one step into it begins the on-delay anew", () => {
    const life = at(at(NEVER_RAISED, 100, Found.active), 102, Found.deadband);
    expect(life.state).toEqual({ name: "normal", occurrence: 0, raising: IDLE });
  });

  test("begin anew when watching begins", () => {
    let life = at(NEVER_RAISED, 100, Found.active, Kleene.no);
    expect(nextDue(life)).toBe(Infinity);
    life = at(life, 102, Found.active);
    expect(nextDue(life)).toBe(105);
  });

  test("restart on the way back when the value falls back inside", () => {
    let life = at(at(NEVER_RAISED, 100, Found.active), 103, Found.active);
    life = at(life, 110, Found.clear);
    life = at(life, 115, Found.deadband);
    expect(nextDue(life)).toBe(Infinity);
    expect(nextDue(at(life, 116, Found.clear))).toBe(126);
  });
});
