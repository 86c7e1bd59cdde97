import { describe, expect, test } from "vitest";
import { FRAME_BYTES, FrameBatch, FrameFlag } from "../bus/frame-batch.ts";
import { RowEncoder } from "../commands/sources/row-encoder.ts";
import { type Micros, SECOND } from "../ground/time.ts";
import { MessageAssembler } from "../nmea2000/assembler.ts";
import { Columns } from "../nmea2000/columns.ts";
import { ALL_ROWS } from "../nmea2000/rows/all.ts";
import type { Timed } from "./happening.ts";
import { SCENARIOS } from "./scenarios/all.ts";
import { HARBOUR_DAY } from "./scenarios/harbour-day.ts";
import { Simulator } from "./simulator.ts";

const START = 1_781_431_200 * SECOND;
const CHARGER = 33;

/** A harbour day's first half minute, with what happens to the line. */
function frames(happenings: readonly Timed[], until: Micros = 30 * SECOND): FrameBatch {
  const scenario = { ...HARBOUR_DAY, happenings };
  const encoder = new RowEncoder(ALL_ROWS);
  const batch = new FrameBatch(100_000);
  new Simulator({ scenario, start: START, encoder }).fill(batch, START + until);
  return batch;
}

const HEALTHY = frames([]);
const columns = new Columns(ALL_ROWS);

/** PGNs of the messages that can be put together, by source. */
function assembled(batch: FrameBatch) {
  const assembler = new MessageAssembler(columns);
  const messages: string[] = [];
  for (let i = 0; i < batch.count; i++) {
    if (batch.flags[i] === FrameFlag.error) continue;
    if (!assembler.accept(batch, i, batch.times[i])) continue;
    const bytes = assembler.bytes.subarray(assembler.start, assembler.start + assembler.length);
    messages.push(`${assembler.pgn} ${assembler.source} ${bytes.join(" ")}`);
  }
  return messages;
}

describe("a line that fails", () => {
  const always: Timed = { at: 0, do: "fault", fault: { kind: "backbone-fails", when: "always" } };
  const bad = frames([always]);

  test("shows error frames, and loses others without a sign", () => {
    let errors = 0;
    for (let i = 0; i < bad.count; i++) errors += bad.flags[i] === FrameFlag.error ? 1 : 0;
    const lost = HEALTHY.count - bad.count;
    expect(errors / HEALTHY.count).toBeGreaterThan(0.2);
    expect(errors / HEALTHY.count).toBeLessThan(0.33);
    expect(lost / HEALTHY.count).toBeGreaterThan(0.08);
    expect(lost / HEALTHY.count).toBeLessThan(0.19);
  });

  test("leaves messages with holes, of which none is put together wrongly", () => {
    const whole = assembled(HEALTHY);
    const found = assembled(bad);
    expect(found.length).toBeGreaterThan(500);
    expect(found.filter((message) => !whole.includes(message))).toEqual([]);
    const ofSeveral = (messages: readonly string[]) =>
      messages.filter((message) => message.startsWith("127489 ")).length;
    expect(ofSeveral(found) / ofSeveral(whole)).toBeLessThan(0.3);
  });

  test("carries all when it fails only while the radio transmits, and nobody speaks", () => {
    const fault = { kind: "backbone-fails", when: "radio-transmits" } as const;
    const quiet = frames([{ at: 0, do: "fault", fault }]);
    expect(quiet.count).toBe(HEALTHY.count);
    const spoken = frames([
      { at: 0, do: "fault", fault },
      { at: 10 * SECOND, do: "radio", transmits: true },
      { at: 20 * SECOND, do: "radio", transmits: false },
    ]);
    const errors: number[] = [];
    for (let i = 0; i < spoken.count; i++) {
      if (spoken.flags[i] === FrameFlag.error) errors.push((spoken.times[i] - START) / SECOND);
    }
    expect(errors.length).toBeGreaterThan(100);
    expect(Math.min(...errors)).toBeGreaterThanOrEqual(10);
    expect(Math.max(...errors)).toBeLessThan(20.1);
  });
});

test("interleaved frames are in order of time, and every message can still be put together", () => {
  const mixed = frames([{ at: 0, do: "fault", fault: { kind: "frames-interleave" } }]);
  let between = 0;
  for (let i = 1; i < mixed.count; i++) {
    expect(mixed.times[i]).toBeGreaterThan(mixed.times[i - 1]);
    const continues = mixed.identifiers[i] !== mixed.identifiers[i - 1] &&
      (mixed.data[i * FRAME_BYTES] & 31) > 0 && mixed.lengths[i] === 8;
    if (continues) between++;
  }
  expect(between).toBeGreaterThan(50);
  expect(new Set(assembled(mixed)).size).toBeGreaterThan(0.99 * new Set(assembled(HEALTHY)).size);
});

test("a misframed charger message is a plain frame of its six bytes, and no message of a charger", () => {
  const fault = { kind: "misframed", device: "charger", pgn: 127507 } as const;
  const odd = frames([{ at: 0, do: "fault", fault }]);
  const charger = (messages: string[]) =>
    messages.filter((message) => message.startsWith(`127507 ${CHARGER}`)).length;
  expect(charger(assembled(HEALTHY))).toBeGreaterThan(10);
  expect(charger(assembled(odd))).toBe(0);
  let seen = 0;
  for (let i = 0; i < odd.count; i++) {
    if (((odd.identifiers[i] >>> 8) & 0x1ffff) !== 127507) continue;
    seen++;
    expect([...odd.data.subarray(i * 8, i * 8 + 2)]).toEqual([0, 0]);
    expect([...odd.data.subarray(i * 8 + 6, i * 8 + 8)]).toEqual([0xff, 0xff]);
  }
  expect(seen).toBeGreaterThan(10);
});

test("a clock that is off stamps all frames by so much, and steps when it is set right", () => {
  const story = SCENARIOS.get("clock-steps")!;
  const batch = frames(story.happenings, 160 * SECOND);
  const steps: number[] = [];
  for (let i = 1; i < batch.count; i++) {
    const step = (batch.times[i] - batch.times[i - 1]) / SECOND;
    if (Math.abs(step) > 60) steps.push(Math.round(step / 60));
  }
  expect(steps).toEqual([180, -180]);
});
