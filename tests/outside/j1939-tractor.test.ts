import { join } from "node:path";
import { expect, test } from "vitest";
import { BusNames } from "../../src/bus/bus-names.ts";
import { openRecording } from "../../src/bus/open-recording.ts";
import { MILLISECOND } from "../../src/ground/time.ts";
import { MessageAssembler } from "../../src/nmea2000/assembler.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import { type DecodedField, decodeMessage } from "../../src/nmea2000/decode-message.ts";
import { DeviceList } from "../../src/nmea2000/devices.ts";
import { FieldStatus } from "../../src/nmea2000/read-field.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { needs, TRACTOR_DATA } from "../support/needs.ts";

const columns = new Columns(ALL_ROWS);

interface Heard {
  /** Milliseconds since the recording's start. */
  readonly at: number;
  readonly pgn: number;
  readonly source: number;
  readonly destination: number;
  readonly length: number;
  /** Empty where the PGN has no row. */
  readonly fields: Record<string, DecodedField>;
}

/** All messages of a recording, and what was not delivered. */
async function listen(name: string) {
  const source = await openRecording(join(TRACTOR_DATA, `${name}.log.gz`), {
    buses: new BusNames(),
  });
  const assembler = new MessageAssembler(columns);
  const devices = new DeviceList(columns);
  const messages: Heard[] = [];
  let start: number | undefined;
  for await (const batch of source.batches()) {
    for (let i = 0; i < batch.count; i++) {
      const now = batch.times[i];
      start ??= now;
      if (!assembler.accept(batch, i, now)) continue;
      devices.take(assembler, now);
      const { row, pgn, source, destination, bytes, start: from, length } = assembler;
      const fields = row < 0 ? {} : decodeMessage(columns, row, bytes, from, length);
      const at = (now - start) / MILLISECOND;
      messages.push({ at, pgn, source, destination, length, fields });
    }
  }
  return { messages, devices, counts: assembler.counts, open: assembler.openSessions };
}

function valuesOf(messages: readonly Heard[], pgn: number, field: string): [number, unknown][] {
  return messages.filter((message) => message.pgn === pgn && message.source === 0)
    .map(({ at, fields }) => [at, rounded(fields[field].value)]);
}

function rounded(value: unknown): unknown {
  return typeof value === "number" ? Math.round(value * 1e4) / 1e4 : value;
}

// Values beside the data: TractorHacking/CAN-data (MIT), start1 and noStartInGear1.
needs("tractor-data")("a tractor's recorded engine start", () => {
  test("has the voltage that sags while it cranks and rises when it charges", async () => {
    const { messages } = await listen("start1");
    const voltages = valuesOf(messages, 65271, "key-switch-voltage");
    const values = voltages.map(([, value]) => value);
    expect(values.slice(0, 8)).toEqual([12.55, 12.55, 12.55, 8.35, 10.6, 12.05, 13.05, 14.1]);
    expect(voltages[3]).toEqual([3388, 8.35]);
  });

  test("turns first at 3.196 s and fastest at 4.656 s", async () => {
    const { messages } = await listen("start1");
    const speeds = valuesOf(messages, 61444, "speed");
    expect(speeds.find(([, speed]) => Number(speed) > 0)).toEqual([3196, 69.5]);
    const most = Math.max(...speeds.map(([, speed]) => Number(speed)));
    expect(speeds.find(([, speed]) => speed === most)).toEqual([4656, 1010.5]);
  });

  test("has its oil pressure late: an error code, nothing at 1010 rpm, then 408 kPa", async () => {
    const { messages } = await listen("start1");
    const first = messages.find(({ pgn, source }) => pgn === 65263 && source === 0);
    expect([first?.at, first?.fields["oil-pressure"].status]).toEqual([
      108,
      FieldStatus.outOfRange,
    ]);
    const pressures = new Map(valuesOf(messages, 65263, "oil-pressure"));
    expect([4608, 5108, 5608, 6107].map((at) => pressures.get(at)))
      .toEqual([4000, 4000, 40_000, 388_000]);
  });

  test("has its hours and its coolant", async () => {
    const { messages } = await listen("start1");
    expect(new Set(valuesOf(messages, 65253, "hours").map(([, value]) => value)))
      .toContain(147.55);
    expect(valuesOf(messages, 65262, "coolant-temperature").map(([, value]) => value))
      .toContain(29);
  });

  test("says its configuration to all six times, and twice to one that asked", async () => {
    const { messages, counts, open } = await listen("start1");
    const long = messages.filter(({ length }) => length > 8);
    expect(long.every(({ pgn, length }) => pgn === 0xfee3 && length === 34)).toBe(true);
    const forAll = long.filter(({ destination }) => destination === 255);
    expect(forAll).toHaveLength(6);
    // The first had come whole when its sender gave it up for want of an acknowledgement.
    const forOne = long.filter(({ destination }) => destination === 6);
    expect(forOne.map(({ at }) => at > 3040 && at < 4641 ? "aborted" : at < 8099 ? "ended" : at))
      .toEqual(["aborted", "ended"]);
    expect([counts.lost, counts.malformed, open]).toEqual([0, 0, 0]);
  });

  test("has its devices by the NAMEs that they claim", async () => {
    const { devices } = await listen("start1");
    expect(devices.nameAt(0, 71)).toBe("200234000430744d");
    expect(devices.deviceAt(0, 71)?.parts).toMatchObject({ manufacturerCode: 33, function: 52 });
    expect(devices.conflicts(Infinity)).toEqual([]);
  });

  test("says nothing that is taken for impossible but a word of zeros before it knows", async () => {
    for (const name of ["start1", "noStartInGear1", "highRPM1"]) {
      const impossible: unknown[] = [];
      const { messages } = await listen(name);
      for (const { pgn, fields } of messages) {
        for (const [field, { status, value }] of Object.entries(fields)) {
          if (status === FieldStatus.implausible) impossible.push({ pgn, field, value });
        }
      }
      expect(impossible).toEqual([{ pgn: 61444, field: "torque", value: -125 }]);
    }
  });

  test("never turns where it is not started, and its oil has no pressure", async () => {
    const { messages } = await listen("noStartInGear1");
    const speeds = valuesOf(messages, 61444, "speed").map(([, value]) => value);
    const pressures = valuesOf(messages, 65263, "oil-pressure").map(([, value]) => value);
    expect(new Set(speeds.filter((value) => value !== null))).toEqual(new Set([0]));
    expect(new Set(pressures.filter((value) => value !== null))).toEqual(new Set([0]));
  });

  test("runs up to 1256 to 1260 rpm with 400 to 448 kPa of oil", async () => {
    const { messages } = await listen("highRPM1");
    const speeds = valuesOf(messages, 61444, "speed").map(([, value]) => Number(value));
    expect(Math.max(...speeds)).toBeGreaterThanOrEqual(1256);
    expect(Math.max(...speeds)).toBeLessThanOrEqual(1260);
    const fast = valuesOf(messages, 65263, "oil-pressure").map(([, value]) => Number(value));
    expect(Math.max(...fast)).toBeLessThanOrEqual(448_000);
    expect(Math.max(...fast)).toBeGreaterThanOrEqual(400_000);
  });
});
