import { afterEach, beforeEach, expect, test } from "vitest";
import { MILLISECOND, parseIsoTime, SECOND } from "../../ground/time.ts";
import { BusNames } from "../bus-names.ts";
import { FrameBatch, FrameFlag } from "../frame-batch.ts";
import { emptyCounts, type FrameSource } from "../frame-source.ts";
import { openFolder } from "../folder-recordings.ts";
import { JointRecording } from "./joint-recording.ts";
import { RecordingFolder } from "./recording-folder.ts";

const BEGINS = parseIsoTime("2026-06-14T10:00:00Z") ?? 0;

let folder = "";
beforeEach(async () => {
  folder = await Deno.makeTempDir();
});
afterEach(async () => {
  await Deno.remove(folder, { recursive: true });
});

function bus(number: number) {
  const source: FrameSource = {
    title: `can${number}`,
    live: true,
    counts: emptyCounts(),
    problems: [],
    async *batches() {},
    stop() {},
  };
  /** Frames at these times, milliseconds since the beginning. */
  const frames = (...times: readonly number[]) => {
    const batch = new FrameBatch(times.length);
    batch.count = times.length;
    batch.times.set(times.map((time) => BEGINS + time * MILLISECOND));
    batch.buses.fill(number);
    batch.flags.fill(FrameFlag.extended);
    return batch;
  };
  return { source, frames };
}

test("what two buses said while the disk was waited for is one recording in order", async () => {
  const buses = new BusNames();
  const [first, second] = [bus(buses.give("can0")), bus(buses.give("can1"))];
  const recordings = new RecordingFolder(folder, buses, { every: 3_600 * SECOND, most: 1e9 });
  const joint = new JointRecording(recordings);
  await joint.write(0);
  // Three seconds of the one bus, then the same of the other.
  await joint.take(first.source, first.frames(0, 1000, 2000, 3000), 3 * SECOND);
  // Stopped meanwhile: nothing is written before the other was read.
  await joint.write(3 * SECOND);
  expect(recordings.files).toEqual([]);
  await joint.take(second.source, second.frames(500, 1500, 2500), 3.1 * SECOND);
  await joint.write(3.2 * SECOND);
  await joint.take(second.source, second.frames(3300), 3.3 * SECOND);
  await joint.end(3.4 * SECOND);
  await recordings.close();
  expect(recordings.files).toHaveLength(1);

  const read: [bus: string, time: number][] = [];
  const names = new BusNames();
  const source = await openFolder(folder, { buses: names });
  for await (const batch of source.batches()) {
    for (let i = 0; i < batch.count; i++) {
      read.push([names.nameOf(batch.buses[i]), (batch.times[i] - BEGINS) / MILLISECOND]);
    }
  }
  expect(read.map(([, time]) => time)).toEqual([0, 500, 1000, 1500, 2000, 2500, 3000, 3300]);
  expect(read.filter(([name]) => name === "can1")).toHaveLength(4);
});
