import fc from "fast-check";
import { beforeEach, describe, expect, test } from "vitest";
import { isoTime, MINUTE, parseIsoTime, SECOND } from "../../ground/time.ts";
import { CommandGate, type CommandMessage } from "./command-gate.ts";
import { commandHmac } from "./command-hmac.ts";
import { SeenIds } from "./seen-ids.ts";

const now = parseIsoTime("2026-06-14T10:12:03Z") ?? 0;
const EPOCH = "00112233aabbccdd";
const TOPICS = "sternfast/hazel-comfort/command/";
let gate: CommandGate;

beforeEach(() => gate = new CommandGate({ epoch: EPOCH, topics: TOPICS }));

function command(parts: Record<string, unknown> = {}, name = "acknowledge"): CommandMessage {
  const text = JSON.stringify({
    id: "a1",
    time: isoTime(now, 3),
    tag: "bilge-high-water",
    subject: "aft",
    occurrence: 41,
    who: "Ellen",
    ...parts,
  });
  return { name, text, retained: false };
}

const refused = (sentence: string) => ({ kind: "refused", id: "a1", refused: sentence });

test("an acknowledgement names the alarm, its occurrence and the person", () => {
  expect(gate.judge(command(), now)).toEqual({
    kind: "answer",
    id: "a1",
    answer: {
      kind: "acknowledge",
      tag: "bilge-high-water",
      subject: "aft",
      occurrence: 41,
      who: "Ellen",
    },
  });
});

describe("an alarm is put aside", () => {
  const judge = (name: string, parts: Record<string, unknown>, wall: number | null = now) =>
    gate.judge(command(parts, name), wall);

  test("for a length of time, or until an instant", () => {
    expect(judge("shelve", { length: "2 h", why: "A float hangs." })).toMatchObject({
      kind: "answer",
      answer: { kind: "shelve", length: 120 * MINUTE, why: "A float hangs.", who: "Ellen" },
    });
    expect(judge("out-of-service", { id: "a2", until: isoTime(now + 90 * MINUTE, 3) }))
      .toMatchObject({ answer: { kind: "out-of-service", length: 90 * MINUTE } });
  });

  test("and taken back, and reset, without one", () => {
    for (const kind of ["unshelve", "return-to-service", "reset"]) {
      expect(judge(kind, { id: kind })).toMatchObject({ kind: "answer", answer: { kind } });
    }
  });

  test("also where it was never raised", () => {
    expect(judge("shelve", { occurrence: 0, length: "1 h" })).toMatchObject({ kind: "answer" });
  });

  test("never for ever, nor for a time that has passed or is none", () => {
    const both = 'The command needs either "length", such as "2 h", or "until", a time.';
    expect(judge("shelve", {})).toEqual(refused(both));
    expect(judge("shelve", { length: "2 h", until: isoTime(now + MINUTE, 3) }))
      .toEqual(refused(both));
    expect(judge("shelve", { length: "2" })).toEqual(
      refused('Found the length "2", expected a time, such as 3 s, 10 min or 1 h 30 min.'),
    );
    expect(judge("shelve", { until: "tomorrow" })).toEqual(
      refused('Found until "tomorrow", expected 2026-06-14T10:12:03Z.'),
    );
    expect(judge("shelve", { until: isoTime(now - MINUTE, 3) })).toEqual(
      refused("Its time has passed already."),
    );
  });

  test("only for a length while the clock is not set", () => {
    const until = isoTime(now + MINUTE, 3);
    expect(judge("shelve", { epoch: EPOCH, until }, null)).toEqual(
      refused('The boat\'s clock is not set; give "length" in place of "until".'),
    );
    expect(judge("shelve", { epoch: EPOCH, length: "1 h" }, null)).toMatchObject({
      kind: "answer",
    });
  });
});

describe("who is aboard", () => {
  const judge = (condition: string, parts = {}) =>
    gate.judge(command({ condition, ...parts }, "condition"), now);

  test("is said by somebody, in the contract's words", () => {
    expect(judge("anchored")).toEqual({
      kind: "condition",
      id: "a1",
      condition: "anchored",
      who: "Ellen",
    });
  });

  test("so is whether she is winterised", () => {
    expect(judge("winterised")).toMatchObject({ kind: "condition", condition: "winterised" });
    expect(judge("not-winterised", { id: "a2" })).toMatchObject({ condition: "not-winterised" });
  });

  test("is refused in other words, old, or repeated", () => {
    expect(judge("anchord")).toEqual(refused(
      'Found the condition "anchord", expected aboard, left, anchored, laid-up, winterised or not-winterised; ' +
        'did you mean "anchored"?',
    ));
    expect(judge("left", { time: isoTime(now - 11 * MINUTE, 3) })).toMatchObject({
      kind: "refused",
    });
    judge("left");
    expect(judge("left")).toMatchObject({ kind: "refused" });
  });
});

describe("a command is refused", () => {
  test("when it lay on the broker", () => {
    expect(gate.judge({ ...command(), retained: true }, now)).toMatchObject({
      kind: "refused",
      refused: expect.stringContaining("may be from any time"),
    });
  });

  test("when its id was here before, also after a thousand others but one", () => {
    gate.judge(command(), now);
    for (let i = 0; i < 999; i++) gate.judge(command({ id: `b${i}` }), now);
    expect(gate.judge(command(), now)).toEqual(
      refused('Command "a1" was here before; it is answered once.'),
    );
  });

  test("when it is older than ten minutes, to the second", () => {
    const sent = (age: number) => command({ time: isoTime(now - age, 3), id: `a${age}` });
    expect(gate.judge(sent(10 * MINUTE), now).kind).toBe("answer");
    expect(gate.judge(sent(10 * MINUTE + SECOND), now)).toMatchObject({
      refused: "The command is older than 10 minutes.",
    });
  });

  test("when its time lies far ahead of the boat's clock", () => {
    expect(gate.judge(command({ time: isoTime(now + 11 * MINUTE, 3) }), now)).toEqual(
      refused("The command's time is more than 10 minutes ahead of the boat's clock."),
    );
  });

  test("when it is for another epoch", () => {
    expect(gate.judge(command({ epoch: "ffff" }), now)).toEqual(
      refused("The command is for another epoch of this boat."),
    );
  });

  test("when nobody knows it, with what was probably meant", () => {
    expect(gate.judge(command({}, "acknowlege"), now)).toEqual(
      refused('There is no command "acknowlege"; did you mean "acknowledge"?'),
    );
  });

  test("when a part is missing or wrong, and says which", () => {
    expect(gate.judge(command({ occurrence: undefined }), now)).toMatchObject({
      refused: expect.stringMatching(/^The command's "occurrence" is not right: .*number/),
    });
    expect(gate.judge(command({ time: "this morning" }), now)).toEqual(
      refused('Found the time "this morning", expected 2026-06-14T10:12:03Z.'),
    );
    expect(gate.judge({ name: "acknowledge", text: "yes", retained: false }, now)).toEqual({
      kind: "refused",
      id: null,
      refused: "The command is not a JSON object of texts and numbers.",
    });
  });

  test("when its id could not be part of a topic, and then has no id to answer to", () => {
    expect(gate.judge(command({ id: "../#" }), now)).toMatchObject({ kind: "refused", id: null });
  });
});

describe("a resend", () => {
  const asked = { id: "r1", time: isoTime(now, 3), epoch: EPOCH, from: 5, to: 9 };
  const judge = (parts: Record<string, unknown>) =>
    gate.judge(
      { name: "resend", text: JSON.stringify({ ...asked, ...parts }), retained: false },
      now,
    );

  test("asks for events, or for history", () => {
    expect(judge({})).toEqual({ kind: "resend", id: "r1", of: "event", from: 5, to: 9 });
    expect(judge({ id: "r2", of: "history" })).toMatchObject({ of: "history" });
  });

  test("must name the epoch, and the lower number first", () => {
    expect(judge({ epoch: undefined })).toMatchObject({ kind: "refused" });
    expect(judge({ id: "r3", epoch: "ffff" })).toMatchObject({
      refused: "The command is for another epoch of this boat.",
    });
    expect(judge({ id: "r4", from: 10 })).toMatchObject({
      refused: "Found from 10 to 9, expected the lower one first.",
    });
  });

  test("is refused when it is old or repeated, as every command is", () => {
    expect(judge({ time: isoTime(now - 11 * MINUTE, 3) })).toMatchObject({ kind: "refused" });
    judge({});
    expect(judge({})).toMatchObject({ kind: "refused", id: "r1" });
  });
});

describe("a receipt", () => {
  const judge = (parts: Record<string, unknown>) =>
    gate.judge({ name: "received", text: JSON.stringify(parts), retained: false }, null);

  test("is true however old it is, and however often it comes", () => {
    const receipt = { kind: "received", id: null, number: 7, history: null };
    expect(judge({ epoch: EPOCH, number: 7 })).toEqual(receipt);
    expect(judge({ epoch: EPOCH, number: 7 })).toEqual(receipt);
    expect(judge({ epoch: EPOCH, number: 7, history: 3 })).toEqual({ ...receipt, history: 3 });
  });

  test("counts for its own epoch only", () => {
    expect(judge({ epoch: "ffff", number: 7 })).toMatchObject({ kind: "refused" });
    expect(judge({ number: 7 })).toMatchObject({ kind: "refused" });
  });
});

describe("where the boat has a key", () => {
  beforeEach(() => gate = new CommandGate({ epoch: EPOCH, topics: TOPICS, key: "oar" }));
  const fields = {
    id: "a1",
    time: isoTime(now, 3),
    tag: "t",
    subject: "s",
    occurrence: 1,
    who: "E",
  };
  const judge = (parts: Record<string, unknown>, name = "acknowledge") =>
    gate.judge({ name, text: JSON.stringify(parts), retained: false }, now);

  test("a signed command is carried out", () => {
    const hmac = commandHmac(`${TOPICS}acknowledge`, fields, "oar");
    expect(judge({ ...fields, hmac })).toMatchObject({ kind: "answer", id: "a1" });
  });

  test("one that is not signed, or was changed, is refused and uses up no id", () => {
    const hmac = commandHmac(`${TOPICS}acknowledge`, fields, "oar");
    expect(judge(fields)).toEqual(
      refused("The command has no HMAC, and this boat wants one."),
    );
    expect(judge({ ...fields, occurrence: 2, hmac })).toEqual(
      refused("The command's HMAC is not right: it was changed, or made with another key."),
    );
    expect(judge({ ...fields, hmac })).toMatchObject({ kind: "answer" });
  });

  test.each([
    [
      "fields that lie deep in one another",
      `{"hmac":"x","a":${"[".repeat(9_000)}${"]".repeat(9_000)}}`,
    ],
    ["a signature that is no text", '{"hmac":{"toString":1}}'],
  ])("%s make it refuse, not fail", (_, text) => {
    expect(gate.judge({ name: "acknowledge", text, retained: false }, now)).toEqual({
      kind: "refused",
      id: null,
      refused: "The command is not a JSON object of texts and numbers.",
    });
  });

  test("no text makes it fail", () => {
    fc.assert(fc.property(fc.oneof(fc.string(), fc.json({ maxDepth: 9 })), (text) => {
      return gate.judge({ name: "shelve", text, retained: false }, now).kind === "refused";
    }));
  });

  test("a signature for one command is none for another", () => {
    const receipt = { epoch: EPOCH, number: 1 };
    const hmac = commandHmac(`${TOPICS}resend`, receipt, "oar");
    expect(judge({ ...receipt, hmac }, "received")).toMatchObject({ kind: "refused" });
  });
});

test("ids are remembered over a restart", () => {
  const seen = new SeenIds();
  new CommandGate({ epoch: EPOCH, topics: TOPICS, seen }).judge(command(), now);
  gate = new CommandGate({ epoch: EPOCH, topics: TOPICS, seen: new SeenIds(seen.kept) });
  expect(gate.judge(command(), now)).toMatchObject({ kind: "refused" });
});

describe("while the clock is not set", () => {
  test("a matching epoch and occurrence count, whatever the time", () => {
    const old = isoTime(0, 3);
    expect(gate.judge(command({ time: old, epoch: EPOCH }), null).kind).toBe("answer");
  });

  test("a command without an epoch is refused", () => {
    expect(gate.judge(command(), null)).toEqual(
      refused("The boat's clock is not set; a command needs the epoch until it is."),
    );
  });
});

test("no text makes it fail, and no text is taken for an acknowledgement by chance", () => {
  fc.assert(fc.property(fc.oneof(fc.string(), fc.json()), fc.string(), (text, name) => {
    return gate.judge({ name, text, retained: false }, now).kind === "refused";
  }));
});
