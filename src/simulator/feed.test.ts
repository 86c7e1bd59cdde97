import { describe, expect, test } from "vitest";
import { Device } from "./device.ts";
import { Feed, WARMING_UP } from "./feed.ts";
import { Random } from "./random.ts";

const STEP = 0.05;

function box(name: string, brownOut?: number): Device {
  const facts = { name, address: 1, identity: 1, deviceClass: 1, deviceFunction: 1 };
  return new Device({ ...facts, model: "", serial: "", brownOut }, []);
}

function feedOf(devices: readonly Device[], volts: number[]): () => void {
  const feed = new Feed(devices, () => volts[0], new Random(1, "feed"));
  return () => feed.step(STEP);
}

describe("the feed of the bus", () => {
  test("takes boxes off while it sags, and each comes back in a time of its own", () => {
    const boxes = ["a", "b", "c", "d"].map((name) => box(name));
    const volts = [8.4];
    const step = feedOf(boxes, volts);
    for (let i = 0; i < 40; i++) step();
    expect(boxes.map((one) => one.talks)).toEqual([false, false, false, false]);
    volts[0] = 12.4;
    const back = new Map<Device, number>();
    for (let i = 0; i < 60; i++) {
      step();
      for (const one of boxes) if (one.talks && !back.has(one)) back.set(one, i * STEP);
    }
    expect(back.size).toBe(4);
    expect(new Set(back.values()).size).toBeGreaterThan(1);
    expect(Math.max(...back.values())).toBeLessThan(2.5);
  });

  test("leaves a box that is made for less alone, and a box without its plug off", () => {
    const [tough, out] = [box("tough", 6.5), box("out")];
    out.powered = false;
    const volts = [8.4];
    const step = feedOf([tough, out], volts);
    step();
    expect([tough.talks, out.talks]).toEqual([true, false]);
    volts[0] = 12.4;
    for (let i = 0; i < 80; i++) step();
    expect(out.talks).toBe(false);
  });

  test("leaves a box that came back without anything to say for a while", () => {
    const one = box("one");
    const volts = [8.4];
    const step = feedOf([one], volts);
    step();
    volts[0] = 12.4;
    while (!one.talks) step();
    let silent = 0;
    for (; one.warmingUp > 0; silent += STEP) step();
    expect(silent).toBeCloseTo(WARMING_UP, 1);
  });
});
