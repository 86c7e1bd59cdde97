import { FrameBatch } from "../../src/bus/frame-batch.ts";
import { MILLISECOND, SECOND } from "../../src/ground/time.ts";
import { MessageAssembler } from "../../src/nmea2000/assembler.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import { DeviceList } from "../../src/nmea2000/devices.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import {
  Chance,
  damage,
  fillAtRandom,
  readAll,
  sizesOf,
  taggedBytes,
  TaggedTalk,
} from "./damaged-bus.ts";

/** Feeds so many random frames; gives the largest sizes that were seen, and how many messages. */
export function feedRandomFrames(frames: number, seed: number) {
  const columns = new Columns(ALL_ROWS);
  const assembler = new MessageAssembler(columns);
  const devices = new DeviceList(columns);
  const chance = new Chance(seed);
  const batch = new FrameBatch(1000);
  const most = { sessions: 0, devices: 0, unknown: 0, conflicts: 0 };
  let messages = 0;
  for (let fed = 0; fed < frames; fed += batch.count) {
    fillAtRandom(batch, chance, fed * MILLISECOND);
    for (let i = 0; i < batch.count; i++) {
      if (!assembler.accept(batch, i, batch.times[i])) continue;
      messages++;
      readAll(columns, assembler);
      devices.take(assembler, batch.times[i]);
    }
    const now = (fed + batch.count) * MILLISECOND;
    assembler.expire(now);
    const sizes = sizesOf(assembler, devices, now);
    most.sessions = Math.max(most.sessions, sizes.sessions);
    most.devices = Math.max(most.devices, sizes.devices);
    most.unknown = Math.max(most.unknown, sizes.unknown);
    most.conflicts = Math.max(most.conflicts, sizes.conflicts);
  }
  assembler.expire(frames * MILLISECOND + 10 * SECOND);
  return { ...most, messages, open: assembler.openSessions };
}

/** Feeds damaged frames of tagged messages; gives how many came whole, and those that are no one's. */
export function feedDamagedTalk(frames: number, seed: number) {
  const columns = new Columns(ALL_ROWS);
  const assembler = new MessageAssembler(columns);
  const chance = new Chance(seed);
  const talk = new TaggedTalk(columns);
  let whole = 0;
  const mixed: string[] = [];
  for (let fed = 0, time = 0; fed < frames; time += SECOND) {
    const batch = damage(talk.round([1, 2, 3, 4], chance, time), chance);
    for (let i = 0; i < batch.count; i++) {
      if (!assembler.accept(batch, i, time + i)) continue;
      if (assembler.length <= 8) continue;
      const { source, pgn, start, length } = assembler;
      const bytes = assembler.bytes.slice(start, start + length);
      const serial = new DataView(bytes.buffer).getUint32(0, true);
      const sent = taggedBytes(source, pgn, serial, length);
      if (sent.every((byte, at) => byte === bytes[at])) whole++;
      else mixed.push(`${pgn} from ${source}, ${length} bytes, number ${serial}`);
    }
    fed += batch.count;
  }
  return { whole, mixed, lost: assembler.counts.lost };
}
