import { describe, expect, test } from "vitest";
import { TalkingBoat } from "../../tests/support/talking-boat.ts";

const MAST = 1;
const HELM = 2;
const OTHER = 3;

function boat(): TalkingBoat {
  const boat = new TalkingBoat({
    devices: [
      { name: "mast-receiver", serial: "A-1", watchAlways: false },
      { name: "helm-receiver", serial: "A-2", watchAlways: false },
    ],
    position: { from: "mast-receiver", standIn: "helm-receiver" },
  });
  for (const source of [MAST, HELM, OTHER]) {
    boat.claim(0, source, source);
    boat.introduce(0, source, `A-${source}`);
  }
  return boat;
}

function fix(boat: TalkingBoat, at: number, source: number, latitude: number | null): void {
  boat.say(at, 129025, { latitude, longitude: latitude }, { source });
}

describe("a position whose device the boat file names", () => {
  test("is that device's alone, whoever else sends one", () => {
    const hazel = boat();
    for (let at = 1; at < 5; at += 0.1) {
      for (const source of [OTHER, HELM, MAST]) fix(hazel, at, source, 50 + source);
    }
    expect(hazel.read("position/latitude")).toBe("51 good");
    expect(hazel.signals.contested()).toEqual([]);
    expect(hazel.signals.binder.unbound).toMatchObject([{ source: OTHER, why: "not-counted" }]);
  });

  test("is the stand-in's once the first is not heard, and handed back", () => {
    const hazel = boat();
    fix(hazel, 1, MAST, 51);
    fix(hazel, 1.1, HELM, 52);
    fix(hazel, 1.9, HELM, 52);
    expect(hazel.read("position/latitude")).toBe("51 good");
    fix(hazel, 2.1, HELM, 52);
    expect(hazel.read("position/latitude")).toBe("52 good");
    fix(hazel, 2.2, MAST, 51);
    expect(hazel.read("position/latitude")).toBe("51 good");
    fix(hazel, 2.3, HELM, 52);
    expect(hazel.read("position/latitude")).toBe("51 good");
  });

  test("is the stand-in's while the first says that it has none", () => {
    const hazel = boat();
    fix(hazel, 1, MAST, 51);
    const seen = new Set<string>();
    for (let at = 1.1; at < 3; at += 0.1) {
      fix(hazel, at, MAST, null);
      fix(hazel, at + 0.05, HELM, 52);
      fix(hazel, at + 0.06, MAST, null);
      seen.add(hazel.read("position/latitude"));
    }
    expect([...seen]).toEqual(["52 good"]);
    fix(hazel, 3, MAST, 51);
    expect(hazel.read("position/latitude")).toBe("51 good");
  });

  test("waits until it is known who sends it", () => {
    const hazel = new TalkingBoat({
      devices: [{ name: "mast-receiver", serial: "A-1", watchAlways: false }],
      position: { from: "mast-receiver" },
    });
    fix(hazel, 0, MAST, 51);
    expect(hazel.names()).toEqual([]);
    hazel.claim(1, MAST, 1);
    hazel.introduce(1, MAST, "A-1");
    fix(hazel, 1.1, MAST, 51);
    expect(hazel.read("position/latitude")).toBe("51 good");
  });
});
