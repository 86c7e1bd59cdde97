import { gunzipSync } from "node:zlib";
import { beforeAll, describe, expect, test } from "vitest";
import { RowEncoder } from "../../src/commands/sources/row-encoder.ts";
import { steadyRecording } from "../../src/commands/sources/steady-source.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import { recordingSource } from "../../src/bus/recordings/recording-source.ts";
import { changeLine } from "../../src/formats/change-lines.ts";
import { parseIsoTime } from "../../src/ground/time.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { CLOCK_STEPS } from "../../src/simulator/scenarios/clock-steps.ts";
import { Simulator } from "../../src/simulator/simulator.ts";
import { writeRecording } from "../../src/simulator/write-recording.ts";
import { Watch } from "../../src/watch.ts";
import { EXAMPLE_FOLDER } from "../support/example-recordings.ts";
import { ownFolder } from "../support/own-folder.ts";
import { boatFrom, packsFor } from "../support/pack-rehearsal.ts";
import { ROOT, sternfast } from "../support/sternfast.ts";

const SETTINGS = ["--settings", `${ROOT}/examples/sea-trials/sternfast.yaml`, "--json"];
const START = parseIsoTime("2026-06-14T10:00:00Z") ?? 0;

/** Under way; after 80 s the clock is set three hours on, after 150 s back again. */
let recorded: string;

beforeAll(() => {
  const encoder = new RowEncoder(ALL_ROWS);
  const simulator = new Simulator({ scenario: CLOCK_STEPS, start: START, encoder });
  const decoder = new TextDecoder();
  const pieces: string[] = [];
  writeRecording(simulator, "can0", START + CLOCK_STEPS.lasting, (lines) => {
    pieces.push(decoder.decode(lines));
  });
  recorded = pieces.join("");
});

/** What `rehearse` and `run` make of it; both say the same. */
async function told(text: string): Promise<{ raised: string[]; error: string }> {
  const folder = ownFolder({ "trip.log": text });
  const typed = ["rehearse", "trip.log", ...SETTINGS, "--answer", "never"];
  const rehearsed = await sternfast(typed, { folder });
  const run = await sternfast(["run", "trip.log", ...SETTINGS], { folder });
  expect(run.out).toBe(rehearsed.out);
  expect(run.error).toContain(rehearsed.error.trim());
  const changes: Record<string, string>[] = rehearsed.out.split("\n").filter((line) => line !== "")
    .map((line) => JSON.parse(line));
  const raised = changes.filter(({ from }) => from === "normal").map(({ tag }) => tag);
  return { raised, error: rehearsed.error };
}

const OF_SILENCE = ["bus-dead", "bus-dead-with-somebody-aboard", "engine-not-heard"];

describe("a recording whose clock was set three hours on, and back", () => {
  test("has no silence in it, and the rehearsal says so", async () => {
    const { raised, error } = await told(recorded);
    expect(raised.filter((tag) => OF_SILENCE.includes(tag))).toEqual([]);
    expect(error).toBe(
      "trip.log: the clock of the recording jumped forward by 3 h, and the bus went on meanwhile; " +
        "to the rules no time has passed there.\n",
    );
  });

  test("is silent where frames are really missing for as long as a bus was away", async () => {
    const secondsOf = (line: string) => Number(line.slice(1, line.indexOf(")"))) - START / 1e6;
    // Devices are heard at another beat afterwards.
    const gap = recorded.split("\n")
      .filter((line) => line === "" || secondsOf(line) < 60 || secondsOf(line) > 74.37)
      .filter((line) => secondsOf(line) < 80)
      .join("\n");
    const { raised, error } = await told(gap);
    expect(raised).toContain("engine-not-heard");
    expect(error).not.toContain("jumped");
  });

  test("gives the same changes whatever the size of the batches", async () => {
    const boat = boatFrom(await Deno.readTextFile(`${ROOT}/examples/sea-trials/boat.yaml`));
    const rules = packsFor("diesel");
    const changesOf = async (batchSize: number): Promise<string[]> => {
      const buses = new BusNames();
      const watch = new Watch({ boat, rules, busNames: buses });
      const bytes = {
        async *pieces() {
          yield new TextEncoder().encode(recorded);
        },
        close() {},
      };
      const source = recordingSource({
        title: "trip.log",
        kind: "candump",
        bytes,
        buses,
        batchSize,
      });
      for await (const batch of steadyRecording(source).batches()) watch.feed(batch);
      return watch.takeChanges().map(changeLine);
    };
    const whole = await changesOf(100_000);
    expect(whole.length).toBeGreaterThan(0);
    for (const size of [1, 7, 1000]) expect(await changesOf(size)).toEqual(whole);
  });
});

describe("a rehearsal of a recording whose clock was set", () => {
  const EXAMPLE = `${ROOT}/${EXAMPLE_FOLDER}`;
  const HELD = "they hold; the one alarm came as it should.";

  /** The example's, with all stamps after the alarm came set by so many seconds. */
  async function setBy(seconds: number): Promise<string> {
    const packed = await Deno.readFile(`${EXAMPLE}/recordings/oil-pressure-falls.log.gz`);
    const lines = gunzipSync(packed).toString().trimEnd().split("\n");
    const amid = Math.floor(lines.length * 0.3);
    return lines.map((line, i) => {
      const stamp = Number(line.slice(1, line.indexOf(")")));
      const time = i < amid ? stamp : stamp + seconds;
      return `(${time.toFixed(6)})${line.slice(line.indexOf(")") + 1)}\n`;
    }).join("");
  }

  async function rehearsed(text: string, expectations: string) {
    const folder = ownFolder({ "trip.log": text, "trip.expect.yaml": expectations });
    const settings = ["--settings", `${EXAMPLE}/sternfast.yaml`];
    return await sternfast(["rehearse", "trip.log", ...settings], { folder });
  }

  test.each([0, 3600, -3600])("by %d s tells of it as if it had not been", async (seconds) => {
    const expected = await Deno.readTextFile(
      `${EXAMPLE}/recordings/oil-pressure-falls.expect.yaml`,
    );
    const { code, out } = await rehearsed(await setBy(seconds), expected);
    expect(code).toBe(0);
    expect(out).toContain("trip.log: 4 min from 2026-06-14T10:00:00.007Z");
    expect(out).toMatch(/0:01:49\.0\d\d {2}alarm: over, not yet answered/);
    expect(out).toMatch(/oil-pressure-low-under-load, port +raised once +44 s in all/);
    expect(out).toContain(HELD);
  });

  test.each([[3600, "11:01"], [-3600, "09:01"]])(
    "by %d s finds a time of day where the clock said it",
    async (seconds, when) => {
      const window = (from: string, to: string) => `[2026-06-14T${from}Z, 2026-06-14T${to}Z]`;
      const line = "{ alarm: oil-pressure-low-under-load, subject: port, raised: " +
        `${window("10:01:05", "10:01:06")}, returned: ${window(`${when}:49`, `${when}:50`)} }`;
      const { out } = await rehearsed(await setBy(seconds), `expect: [${line}]\n`);
      expect(out).toContain(HELD);
    },
  );
});
