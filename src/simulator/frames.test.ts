import { describe, expect, test } from "vitest";
import { FrameBatch, FrameFlag } from "../bus/frame-batch.ts";
import { RowEncoder } from "../commands/sources/row-encoder.ts";
import { type Micros, MILLISECOND, MINUTE, SECOND } from "../ground/time.ts";
import { MessageAssembler } from "../nmea2000/assembler.ts";
import { Columns } from "../nmea2000/columns.ts";
import { decodeMessage } from "../nmea2000/decode-message.ts";
import { FieldStatus } from "../nmea2000/read-field.ts";
import { ALL_ROWS } from "../nmea2000/rows/all.ts";
import type { MessageEncoder, OutgoingMessage } from "./message-encoder.ts";
import { HARBOUR_DAY } from "./scenarios/harbour-day.ts";
import { SCENARIOS } from "./scenarios/all.ts";
import { Simulator } from "./simulator.ts";
import { type Pace, SimulatorSource } from "./simulator-source.ts";

const START = 1_781_431_200 * SECOND;
const columns = new Columns(ALL_ROWS);

function simulator(encoder: MessageEncoder = new RowEncoder(ALL_ROWS), seed = 1): Simulator {
  return new Simulator({ scenario: HARBOUR_DAY, start: START, encoder, seed });
}

/** All frames of a stretch as text, asked for in pieces. */
function frames(one: Simulator, until: Micros, piece: Micros, capacity: number): string[] {
  const batch = new FrameBatch(capacity);
  const lines: string[] = [];
  for (let time = START; time < START + until; time += piece) {
    let whole = false;
    while (!whole) {
      batch.count = 0;
      whole = one.fill(batch, Math.min(time + piece, START + until));
      for (let i = 0; i < batch.count; i++) {
        const data = batch.data.subarray(i * 8, i * 8 + batch.lengths[i]).join(" ");
        lines.push(`${batch.times[i]} ${batch.identifiers[i]} ${data}`);
      }
    }
  }
  return lines;
}

describe("the simulator's frames", () => {
  test("are the same for one seed however they are asked for, and others for another", () => {
    const whole = frames(simulator(), 30 * SECOND, 30 * SECOND, 100_000);
    expect(frames(simulator(), 30 * SECOND, 37 * MILLISECOND, 33)).toEqual(whole);
    expect(frames(simulator(new RowEncoder(ALL_ROWS), 2), 30 * SECOND, SECOND, 100)).not.toEqual(
      whole,
    );
  });

  test("follow one another on the wire: none begins while another is on it", () => {
    const batch = new FrameBatch(100_000);
    simulator().fill(batch, START + 60 * SECOND);
    for (let i = 1; i < batch.count; i++) {
      expect(batch.times[i] - batch.times[i - 1]).toBeGreaterThanOrEqual(560);
      expect(batch.flags[i]).toBe(FrameFlag.extended);
    }
  });

  test("say what the devices measured, within a step of each field, for a minute of a story", () => {
    // Between them they have every box aboard.
    for (const name of ["harbour-day", "key-off", "petrol-v8s", "gearbox-slips", "generator"]) {
      const scenario = SCENARIOS.get(name)!;
      const said: OutgoingMessage[] = [];
      const rows = new RowEncoder(ALL_ROWS);
      const encoder: MessageEncoder = {
        append(batch, message) {
          said.push(message);
          rows.append(batch, message);
        },
      };
      const batch = new FrameBatch(100_000);
      new Simulator({ scenario, start: START, encoder }).fill(batch, START + 75 * SECOND);
      const assembler = new MessageAssembler(columns);
      let count = 0;
      for (let i = 0; i < batch.count; i++) {
        if (!assembler.accept(batch, i, batch.times[i])) continue;
        const message = said[count++];
        expect(assembler.pgn).toBe(message.pgn);
        expect(assembler.source).toBe(message.source);
        expectSame(message, assembler);
      }
      expect(count).toBe(said.length);
      expect(count).toBeGreaterThan(1000);
      expect(assembler.openSessions).toBe(0);
    }
  });

  test.each([...SCENARIOS.keys()])("can all be said: %s", (name) => {
    const scenario = SCENARIOS.get(name)!;
    const encoder = new RowEncoder(ALL_ROWS);
    const most = name === "harbour-day" ? 40 * MINUTE : 3 * MINUTE;
    const end = START + Math.min(scenario.lasting, most);
    const one = new Simulator({ scenario, start: START, encoder, seed: 11 });
    const batch = new FrameBatch(4096);
    let frames = 0;
    for (let whole = false; !whole;) {
      batch.count = 0;
      whole = one.fill(batch, end);
      frames += batch.count;
    }
    expect(frames / ((end - START) / SECOND)).toBeGreaterThan(20);
    expect(frames / ((end - START) / SECOND)).toBeLessThan(100);
  });
});

function expectSame({ values }: OutgoingMessage, message: MessageAssembler): void {
  const { row, bytes, start, length } = message;
  for (const [name, found] of Object.entries(decodeMessage(columns, row, bytes, start, length))) {
    const given = values[name] ?? null;
    if (given === null) {
      expect([name, found.status]).toEqual([name, FieldStatus.notAvailable]);
    } else if (typeof given === "number") {
      const step = columns.resolution[columns.fieldOf(row, name)];
      expect(Math.abs(Number(found.value) - given)).toBeLessThanOrEqual(0.5001 * step);
    } else {
      expect([name, found.value]).toEqual([name, given]);
    }
  }
}

describe("as a source", () => {
  async function drained(source: SimulatorSource): Promise<number> {
    let last = 0;
    for await (const batch of source.batches()) last = batch.times[batch.count - 1];
    return last;
  }

  test("it is a recording as long as its story when nothing holds it back", async () => {
    const short = { ...HARBOUR_DAY, lasting: 20 * SECOND };
    const encoder = new RowEncoder(ALL_ROWS);
    const source = new SimulatorSource(
      new Simulator({ scenario: short, start: START, encoder }),
    );
    expect(source.live).toBe(false);
    expect(source.title).toBe("simulator:harbour-day");
    const last = await drained(source);
    expect(last).toBeGreaterThan(START + 19.8 * SECOND);
    expect(last).toBeLessThanOrEqual(START + 20 * SECOND);
    expect(source.counts.frames).toBeGreaterThan(1000);
  });

  test("with a pace it never hands over a frame from the future, and goes on until stopped", async () => {
    let clock = START;
    const pace: Pace = (time) => {
      clock = time;
      return Promise.resolve();
    };
    const short = { ...HARBOUR_DAY, lasting: 70 * SECOND };
    const encoder = new RowEncoder(ALL_ROWS);
    const source = new SimulatorSource(
      new Simulator({ scenario: short, start: START, encoder }),
      pace,
    );
    expect(source.live).toBe(true);
    let seen = 0;
    for await (const batch of source.batches()) {
      seen += batch.count;
      expect(batch.times[batch.count - 1]).toBeLessThanOrEqual(clock);
      if (clock >= START + 160 * SECOND) source.stop();
    }
    expect(clock).toBeLessThan(START + 161 * SECOND);
    expect(seen).toBe(source.counts.frames);
  });
});
