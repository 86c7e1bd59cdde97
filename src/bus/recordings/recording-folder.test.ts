import { basename, join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { batchOf, type Frame, readAll } from "../../../tests/support/frames.ts";
import { HOUR, MILLISECOND, SECOND } from "../../ground/time.ts";
import { BusNames } from "../bus-names.ts";
import { FrameFlag } from "../frame-batch.ts";
import { openInput } from "../open-input.ts";
import { CannotRecord, RecordingFolder } from "./recording-folder.ts";

const START = 1_781_431_200 * SECOND;

/** One frame every 100 ms. */
function framesFrom(first: number, count: number): Frame[] {
  return Array.from({ length: count }, (_, index) => ({
    time: first + index * 100 * MILLISECOND,
    bus: "can0",
    flags: FrameFlag.extended,
    identifier: 0x18ff0001 + index,
    length: 8,
    data: [index & 255, 1, 2, 3, 4, 5, 6, 7],
  }));
}

let folder = "";
beforeEach(async () => {
  folder = join(await Deno.makeTempDir(), "recordings");
});
afterEach(async () => {
  await Deno.remove(join(folder, ".."), { recursive: true });
});

const names = (recorder: RecordingFolder) => recorder.files.map((file) => basename(file));

async function readBack(place = folder) {
  const buses = new BusNames();
  return await readAll(await openInput(place, { buses, folder: "/" }), buses);
}

function recorder(rules = {}) {
  const buses = new BusNames();
  const made = new RecordingFolder(folder, buses, { every: HOUR, most: 50_000_000, ...rules });
  const take = (frames: readonly Frame[], arrival?: number) =>
    made.take(batchOf(frames, buses), arrival);
  return { made, take };
}

describe("recordings in a folder", () => {
  test("give every frame back, over as many files as there are", async () => {
    const { made, take } = recorder({ every: 10 * SECOND });
    const frames = framesFrom(START, 350);
    for (let at = 0; at < frames.length; at += 30) await take(frames.slice(at, at + 30));
    await made.close();
    expect(names(made)).toEqual([
      "2026-06-14T10-00-00Z.log.gz",
      "2026-06-14T10-00-10Z.log.gz",
      "2026-06-14T10-00-20Z.log.gz",
      "2026-06-14T10-00-30Z.log.gz",
    ]);
    expect(await readBack()).toEqual({ frames, error: undefined });
  });

  test("begin anew when they are large enough", async () => {
    const { made, take } = recorder({ most: 1_000 });
    const frames = framesFrom(START, 600);
    for (const frame of frames) await take([frame]);
    await made.close();
    expect(made.files.length).toBeGreaterThan(3);
    for (const file of made.files) expect((await Deno.stat(file)).size).toBeLessThan(1_500);
    expect((await readBack()).frames).toEqual(frames);
  });

  test("that would have one name are counted", async () => {
    const { made, take } = recorder();
    await take(framesFrom(START, 20));
    await take(framesFrom(START - 10 * SECOND, 20));
    await take(framesFrom(START, 20));
    await take(framesFrom(START - 10 * SECOND, 20));
    await made.close();
    expect(names(made)).toEqual([
      "2026-06-14T10-00-00Z.log.gz",
      "2026-06-14T09-59-50Z.log.gz",
      "2026-06-14T09-59-50Z-2.log.gz",
    ]);
  });

  test("hold all but the last second at any moment, as a kill would leave them", async () => {
    const { made, take } = recorder();
    const frames = framesFrom(START, 100);
    for (const [index, frame] of frames.entries()) {
      await take([frame], frame.time);
      if (index % 20 !== 19) continue;
      const found = await readBack(made.files[0]);
      expect(found.error).toBeUndefined();
      expect(found.frames.length).toBeGreaterThanOrEqual(index + 1 - 10);
      expect(found.frames).toEqual(frames.slice(0, found.frames.length));
    }
    await made.close();
  });

  test("are written within half a second though the bus falls silent", async () => {
    const { made, take } = recorder();
    const frames = framesFrom(START, 3);
    await take(frames, START);
    await made.flush(START + SECOND / 4);
    expect((await Deno.stat(made.files[0])).size).toBe(0);
    await made.flush(START + SECOND / 2);
    expect((await readBack()).frames).toEqual(frames);
    await made.close();
  });

  test("cut anywhere give back every whole second before the cut", async () => {
    const { made, take } = recorder();
    const frames = framesFrom(START, 50);
    for (const frame of frames) await take([frame]);
    await made.close();
    const [file] = made.files;
    const whole = await Deno.readFile(file);
    let most = 0;
    for (let length = whole.length; length > 0; length -= 7) {
      await Deno.writeFile(file, whole.subarray(0, length));
      const cut = await readBack(`candump:${file}`);
      expect(cut.frames).toEqual(frames.slice(0, cut.frames.length));
      most = Math.max(most, cut.frames.length);
    }
    expect(most).toBe(frames.length);
  });

  test("that cannot be written say so", async () => {
    await Deno.writeTextFile(folder, "in the way");
    const { take } = recorder();
    const error = await take(framesFrom(START, 1)).catch((error) => error);
    expect(error).toBeInstanceOf(CannotRecord);
    expect(error.message).toContain(`${folder} cannot be written (`);
  });
});
