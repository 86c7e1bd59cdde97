import { MINUTE, parseIsoTime, SECOND } from "../../src/ground/time.ts";
import { FrameBatch } from "../../src/bus/frame-batch.ts";
import { RowEncoder } from "../../src/commands/sources/row-encoder.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { SCENARIOS } from "../../src/simulator/scenarios/all.ts";
import { Simulator } from "../../src/simulator/simulator.ts";
import { writeRecording } from "../../src/simulator/write-recording.ts";

export const EXAMPLE_FOLDER = "examples/hazel-comfort";

interface ExampleRecording {
  readonly scenario: string;
  /** When the story began; the recording may begin later. */
  readonly start: string;
  /** Since the story began, microseconds. */
  readonly from: number;
  readonly to: number;
}

/** The recordings that lie in `examples/`, by file name without its endings. */
export const EXAMPLE_RECORDINGS: Readonly<Record<string, ExampleRecording>> = {
  "oil-pressure-falls": {
    scenario: "harbour-day",
    start: "2026-06-14T10:00:00Z",
    from: 0,
    to: 4 * MINUTE,
  },
  "charger-fault": {
    scenario: "harbour-day",
    start: "2026-06-14T10:00:00Z",
    from: 14 * MINUTE,
    to: 21.5 * MINUTE,
  },
  "key-off": {
    scenario: "key-off",
    start: "2026-06-15T16:30:00Z",
    from: 0,
    to: 240 * SECOND,
  },
};

/** What such a recording must say, as text. */
export function exampleRecording(name: string): Uint8Array {
  const { scenario: scenarioName, start: startText, from, to } = EXAMPLE_RECORDINGS[name];
  const scenario = SCENARIOS.get(scenarioName);
  const start = parseIsoTime(startText);
  if (scenario === undefined || start === undefined) throw new Error(`${name} is no recording`);
  const simulator = new Simulator({ scenario, start, encoder: new RowEncoder(ALL_ROWS) });
  skip(simulator, start + from);
  const pieces: Uint8Array[] = [];
  writeRecording(simulator, "can0", start + to, (lines) => pieces.push(lines.slice()));
  return joined(pieces);
}

function skip(simulator: Simulator, until: number): void {
  const batch = new FrameBatch(4096);
  while (!simulator.fill(batch, until)) batch.count = 0;
}

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}
