import { expect, test } from "vitest";
import { framesIn } from "../../../../tests/support/frames.ts";
import { BusNames } from "../../bus-names.ts";
import { FrameBatch, FrameFlag } from "../../frame-batch.ts";
import type { SourceEvent } from "../../source-event.ts";
import { SourceTally } from "../../source-tally.ts";
import { FrameIntake } from "./frame-intake.ts";
import { MessageSlots } from "./message-slots.ts";

/** What the kernel writes for one frame. */
function fill(slots: MessageSlots, slot: number, word: number, data: readonly number[]): void {
  const frame = slots.dataAt(slot) - 8;
  slots.view.setUint32(frame, word, true);
  slots.bytes[frame + 4] = data.length;
  slots.bytes.set(data, slots.dataAt(slot));
  slots.view.setUint32(slot * 64 + 56, 16, true);
  slots.view.setUint32(slot * 64 + 40, 0, true);
}

function intakeOf(...frames: readonly (readonly [number, readonly number[]])[]) {
  const slots = new MessageSlots(frames.length, () => 0n);
  frames.forEach(([word, data], slot) => fill(slots, slot, word, data));
  const events: SourceEvent[] = [];
  const tally = new SourceTally();
  const buses = new BusNames();
  const told = (event: SourceEvent) => void events.push(event);
  const intake = new FrameIntake({ slots, tally, bus: buses.numberOf("can0"), now: () => 7, told });
  const batch = new FrameBatch(frames.length);
  for (let slot = 0; slot < frames.length; slot++) intake.add(slot, intake.open(slot), batch);
  return { intake, events, tally, frames: framesIn(batch, buses) };
}

test("every kind of frame is taken with its flags", () => {
  const { frames, tally } = intakeOf(
    [0x98ff0001, [1, 2]],
    [0x123, [3]],
    [0xd8ff0001, []],
    [0x20000040, [0, 0, 0, 0, 0, 0, 0, 0]],
  );
  expect(frames.map(({ flags, identifier, data }) => [flags, identifier, data.length])).toEqual([
    [FrameFlag.extended, 0x18ff0001, 2],
    [0, 0x123, 1],
    [FrameFlag.extended | FrameFlag.remote, 0x18ff0001, 0],
    [FrameFlag.error, 0x40, 8],
  ]);
  expect(tally.counts).toMatchObject({ frames: 4, standard: 1, remote: 1, error: 1 });
});

test("a frame without a stamp is stamped as it is taken", () => {
  expect(intakeOf([0x123, []]).frames[0].time).toBe(7);
});

test("a state of the controller is told when it changes, and not again", () => {
  const passive = [0x20000004, [0, 0x10, 0, 0, 0, 0, 0, 130]] as const;
  const busOff = [0x20000040, [0, 0, 0, 0, 0, 0, 0, 0]] as const;
  const { events } = intakeOf(passive, passive, busOff, [0x20000100, [0]]);
  expect(events.map((event) => event.kind === "controller" && event.state)).toEqual([
    "error-passive",
    "bus-off",
    "error-active",
  ]);
});

test("frames that the kernel dropped are counted and told once", () => {
  const { intake, events, tally } = intakeOf([0x123, []]);
  for (const count of [0, 3, 3, 5]) intake.dropped(count);
  expect(tally.counts.dropped).toBe(5);
  expect(events).toEqual([{ kind: "dropped", count: 3 }, { kind: "dropped", count: 2 }]);
});
