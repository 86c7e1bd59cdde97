import fc from "fast-check";
import { afterEach, describe, expect, test } from "vitest";
import { anyFrame } from "../../../../tests/support/any-frame.ts";
import { type Frame, framesIn, readAll } from "../../../../tests/support/frames.ts";
import { type Answers, REFUSED, SlcanAdapter } from "../../../../tests/support/slcan-adapter.ts";
import { holdsAsFrameSource } from "../../../../tests/support/holds-as-frame-source.ts";
import { MILLISECOND, SECOND } from "../../../ground/time.ts";
import { BusNames } from "../../bus-names.ts";
import { FrameFlag } from "../../frame-batch.ts";
import type { SourceEvent } from "../../source-event.ts";
import { openSlcan, type SlcanOptions } from "./slcan.ts";

/** All frames arrive at one instant, so that they can be compared. */
const NOW = 1_781_431_200 * SECOND;
const clock = { steady: () => NOW, wall: () => NOW };

const FRAMES: Frame[] = fc.sample(anyFrame, { seed: 28701, numRuns: 50 })
  .filter(({ flags }) => (flags & FrameFlag.error) === 0)
  .map((frame) => ({ ...frame, time: NOW, bus: "can0" }));

function lineOf({ flags, identifier, length, data }: Frame): string {
  const long = (flags & FrameFlag.extended) !== 0;
  const letter = (flags & FrameFlag.remote) !== 0 ? "r" : "t";
  const digits = identifier.toString(16).padStart(long ? 8 : 3, "0");
  const bytes = data.map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return `${long ? letter.toUpperCase() : letter}${digits}${length}${bytes}\r`;
}

const LINES = new TextEncoder().encode(FRAMES.map(lineOf).join(""));

const adapters: SlcanAdapter[] = [];
afterEach(async () => {
  for (const adapter of adapters.splice(0)) await adapter.unplug();
});

function plugIn(lines: Uint8Array = LINES, answers: Answers = {}): SlcanAdapter {
  const adapter = new SlcanAdapter(lines, answers);
  adapters.push(adapter);
  return adapter;
}

function open(device: string, buses: BusNames, more: Partial<SlcanOptions> = {}) {
  const sleep = (length: number) =>
    new Promise<void>((resolve) => setTimeout(resolve, length / MILLISECOND));
  return openSlcan({
    device,
    buses,
    bus: "can0",
    clock,
    delay: () => 20 * MILLISECOND,
    sleep,
    ...more,
  });
}

holdsAsFrameSource("a serial adapter", {
  frames: FRAMES,
  endless: true,
  open: (buses, batchSize) => open(plugIn().device, buses, { batchSize }),
});

describe("a serial adapter", () => {
  test("is opened to listen only, at the bit rate of NMEA 2000, and shut at the end", async () => {
    const adapter = plugIn();
    const buses = new BusNames();
    await readAll(open(adapter.device, buses), buses, FRAMES.length);
    const commands = () => adapter.commands.filter((command) => command !== "F");
    await expect.poll(commands).toEqual(["C", "Z1", "S5", "L", "C"]);
  });

  test("is opened at another bit rate where it is said", async () => {
    const adapter = plugIn();
    const buses = new BusNames();
    await readAll(open(adapter.device, buses, { bitRate: 500_000 }), buses, FRAMES.length);
    expect(adapter.commands).toContain("S6");
  });

  test("that has no stamps and answers no command is listened to all the same", async () => {
    const silent = { C: "", Z1: REFUSED, S5: "" };
    const buses = new BusNames();
    const source = open(plugIn(LINES, silent).device, buses);
    expect((await readAll(source, buses, FRAMES.length)).frames).toEqual(FRAMES);
  });

  test("that cannot listen only is not used", async () => {
    const buses = new BusNames();
    const events: SourceEvent[] = [];
    const source = open(plugIn(LINES, { L: REFUSED }).device, buses, {
      told: (event) => {
        events.push(event);
        queueMicrotask(() => source.stop());
      },
    });
    expect((await readAll(source, buses)).frames).toEqual([]);
    expect(events[0]).toMatchObject({
      kind: "refused",
      reason: "the adapter cannot listen without taking part in the bus (command L)",
    });
  });

  test("that is unplugged and plugged in again goes on", async () => {
    const folder = await Deno.makeTempDir();
    const place = `${folder}/adapter`;
    const first = plugIn(LINES.subarray(0, -5));
    await Deno.symlink(first.device, place);
    const buses = new BusNames();
    const kinds: string[] = [];
    const source = open(place, buses, {
      told: ({ kind }) => {
        kinds.push(kind);
        if (kind !== "lost") return;
        Deno.removeSync(place);
        Deno.symlinkSync(plugIn().device, place);
      },
    });
    const frames: Frame[] = [];
    for await (const batch of source.batches()) {
      frames.push(...framesIn(batch, buses));
      if (frames.length === FRAMES.length - 1) adapters.splice(0, 1)[0]?.unplug();
      if (frames.length === 2 * FRAMES.length - 1) source.stop();
    }
    expect(frames).toEqual([...FRAMES.slice(0, -1), ...FRAMES]);
    expect(kinds).toEqual(["connected", "lost", "connected"]);
    expect(source.counts.malformed).toBe(1);
    await Deno.remove(folder, { recursive: true });
  });

  test("that is not plugged in is waited for, and said in a sentence", async () => {
    const buses = new BusNames();
    const events: SourceEvent[] = [];
    const source = open("/dev/no-such-adapter", buses, {
      told: (event) => {
        events.push(event);
        queueMicrotask(() => source.stop());
      },
    });
    await readAll(source, buses);
    expect(events[0]).toMatchObject({ reason: "there is no device /dev/no-such-adapter" });
  });

  test("is no ordinary file", async () => {
    const file = await Deno.makeTempFile();
    expect(() => open(file, new BusNames())).toThrow(
      `slcan:${file} is a file, expected a serial device such as /dev/ttyACM0.`,
    );
    await Deno.remove(file);
  });

  test("is no other device than a serial one", async () => {
    const buses = new BusNames();
    const events: SourceEvent[] = [];
    const source = open("/dev/null", buses, {
      told: (event) => {
        events.push(event);
        queueMicrotask(() => source.stop());
      },
    });
    await readAll(source, buses);
    expect(events[0]).toMatchObject({ reason: "/dev/null is no serial device" });
  });
});
