import { gzipSync } from "node:zlib";
import { RowEncoder } from "../../src/commands/sources/row-encoder.ts";
import { DAY, type Micros, parseIsoTime } from "../../src/ground/time.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { Simulator } from "../../src/simulator/simulator.ts";
import { randomTrip } from "../../src/simulator/trip.ts";
import type { TripFaultName } from "../../src/simulator/trip-faults.ts";
import { writeRecording } from "../../src/simulator/write-recording.ts";

const FIRST_DAY = parseIsoTime("2026-05-01T10:00:00Z") ?? 0;
const FAULTS: readonly TripFaultName[] = [
  "bilge-leaks",
  "charger-fault",
  "oil-lost",
  "device-gone",
  "alternator-dead",
  "mooring-drags",
];

/**
 * Lays the recordings of a season in a folder: trips by chance, one every second day, on most of
 * which something goes wrong. Returns how long they are together, from first frame to last.
 */
export function laySeason(folder: string, trips: number): Micros {
  let lasting = 0;
  for (let seed = 1; seed <= trips; seed++) {
    const text = tripText(seed, FIRST_DAY + 2 * (seed - 1) * DAY);
    Deno.writeFileSync(
      `${folder}/trip-${String(seed).padStart(3, "0")}.log.gz`,
      gzipSync(text, { level: 1 }),
    );
    const lines = new TextDecoder().decode(text).trimEnd();
    lasting += stampOf(lines.slice(lines.lastIndexOf("\n") + 1)) - stampOf(lines);
  }
  return lasting;
}

function tripText(seed: number, start: Micros): Uint8Array {
  const { scenario } = randomTrip(seed, { faults: FAULTS, chance: 0.8 });
  const simulator = new Simulator({ scenario, start, seed, encoder: new RowEncoder(ALL_ROWS) });
  const pieces: Uint8Array[] = [];
  writeRecording(simulator, "can0", start + scenario.lasting, (lines) => {
    pieces.push(lines.slice());
  });
  const whole = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}

/** `(1777629600.000123) can0 …` */
function stampOf(line: string): Micros {
  const [, seconds, micros] = /^\((\d+)\.(\d{6})\)/.exec(line) ?? [];
  return Number(seconds) * 1_000_000 + Number(micros);
}
