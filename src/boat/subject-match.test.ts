import { describe, expect, test } from "vitest";
import type { Key } from "./boat.ts";
import { type Candidate, type HeardKey, matchSubject, type Sender } from "./subject-match.ts";

const DEVICES = [
  { name: "port-interface", serial: "A-1", watchAlways: false },
  { name: "starboard-interface", serial: "A-2", watchAlways: false },
  { name: "by-name", serial: "00000000000000ff", watchAlways: false },
  { name: "no-serial", watchAlways: false },
];

function engine(name: string, key: Omit<Key, "quantity">): Candidate {
  const own = { quantity: "self", ...key };
  const subject = { group: "engine", name, keys: [own], words: {}, numbers: {}, relations: {} };
  return { subject, key: own };
}

const sender: Sender = { bus: "can0", address: 5, name: null, serial: null };

/** The name, or what kind of answer it is. */
function match(
  candidates: readonly Candidate[],
  heard: HeardKey,
  from: Partial<Sender> = {},
): string {
  const found = matchSubject(candidates, heard, { ...sender, ...from }, DEVICES);
  return found.kind === "named" ? found.candidate.subject.name : found.kind;
}

describe("what a message is about", () => {
  test("all given parts must fit", () => {
    const keys = [
      engine("port", { instance: 0 }),
      engine("wing", { instance: 2, bus: "can1" }),
      engine("stern", { bus: "can2", address: 0 }),
    ];
    expect(match(keys, { instance: 0 })).toBe("port");
    expect(match(keys, { instance: 1 })).toBe("unnamed");
    expect(match(keys, { instance: 2 })).toBe("unnamed");
    expect(match(keys, { instance: 2 }, { bus: "can1" })).toBe("wing");
    expect(match(keys, { address: 0 }, { bus: "can2", address: 0 })).toBe("stern");
    // What has an instance is no J1939 engine, whatever address it comes from.
    expect(match(keys, { instance: 7 }, { bus: "can2", address: 0 })).toBe("unnamed");
  });

  test("the key that says most wins", () => {
    const keys = [
      engine("any", { instance: 0 }),
      engine("second-bus", { instance: 0, bus: "can1" }),
    ];
    expect(match(keys, { instance: 0 })).toBe("any");
    expect(match(keys, { instance: 0 }, { bus: "can1" })).toBe("second-bus");
  });

  test("two keys that fit equally well decide nothing", () => {
    const keys = [engine("port", { instance: 0 }), engine("starboard", { instance: 0 })];
    expect(match(keys, { instance: 0 })).toBe("ambiguous");
  });

  test("two engines at one instance are told apart by their devices' serial numbers", () => {
    const keys = [
      engine("port", { instance: 0, device: "port-interface" }),
      engine("starboard", { instance: 0, device: "starboard-interface" }),
    ];
    expect(match(keys, { instance: 0 }, { serial: "A-1" })).toBe("port");
    expect(match(keys, { instance: 0 }, { serial: "A-2" })).toBe("starboard");
    expect(match(keys, { instance: 0 }, { serial: "A-3" })).toBe("unnamed");
  });

  test("a device that may be the one meant makes the message wait", () => {
    const keys = [
      engine("port", { instance: 0 }),
      engine("starboard", { instance: 0, device: "starboard-interface" }),
    ];
    expect(match(keys, { instance: 0 })).toBe("undecided");
    expect(match(keys, { instance: 0 }, { name: "00000000000000aa" })).toBe("undecided");
    expect(match(keys, { instance: 0 }, { serial: "A-1" })).toBe("port");
    expect(match(keys, { instance: 1 })).toBe("unnamed");
  });

  test("a device may be given by its whole NAME", () => {
    const keys = [engine("port", { instance: 0, device: "by-name" })];
    expect(match(keys, { instance: 0 }, { name: "00000000000000FF" })).toBe("port");
    expect(match(keys, { instance: 0 }, { name: "00000000000000aa" })).toBe("unnamed");
    expect(match(keys, { instance: 0 })).toBe("undecided");
  });

  test("a device of which nothing is known is never met", () => {
    expect(match([engine("port", { instance: 0, device: "no-serial" })], { instance: 0 }))
      .toBe("unnamed");
  });
});
