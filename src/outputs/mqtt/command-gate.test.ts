import fc from "fast-check";
import { beforeEach, describe, expect, test } from "vitest";
import { isoTime, MINUTE, parseIsoTime, SECOND } from "../../ground/time.ts";
import { CommandGate, type CommandMessage } from "./command-gate.ts";

const now = parseIsoTime("2026-06-14T10:12:03Z") ?? 0;
const EPOCH = "00112233aabbccdd";
let gate: CommandGate;

beforeEach(() => gate = new CommandGate(EPOCH));

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
    kind: "acknowledge",
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
    expect(gate.judge(sent(10 * MINUTE), now).kind).toBe("acknowledge");
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

  test("when it is one of a later version", () => {
    expect(gate.judge(command({}, "shelve"), now)).toEqual(
      refused('"shelve" is not in this version.'),
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
      refused: "The command is not a JSON object.",
    });
  });

  test("when its id could not be part of a topic, and then has no id to answer to", () => {
    expect(gate.judge(command({ id: "../#" }), now)).toMatchObject({ kind: "refused", id: null });
  });
});

describe("while the clock is not set", () => {
  test("a matching epoch and occurrence count, whatever the time", () => {
    const old = isoTime(0, 3);
    expect(gate.judge(command({ time: old, epoch: EPOCH }), null).kind).toBe("acknowledge");
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
