import { gzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { sternfast } from "../support/sternfast.ts";

const TRIP = new SpokenRecording().engine(0, 60, { speed: 700, oil: 40 });

/** What the program says of these words in a folder with these files: exit code and sentences. */
async function said(
  typed: readonly string[],
  files: Readonly<Record<string, string | Uint8Array>> = {},
): Promise<{ code: number; says: string; out: string }> {
  const trip = { "trip.log": TRIP.text, "trip.log.gz": gzipSync(TRIP.text) };
  const folder = ownFolder({ ...trip, ...files });
  const { code, out, error } = await sternfast(typed, { folder });
  expect(error, "a trace of the program's inside").not.toMatch(/at file:|Uncaught/);
  return { code, says: error.replaceAll(`${folder}/`, ""), out };
}

describe("what was typed", () => {
  test.each([
    [
      ["rnu"],
      'found "rnu", which is no command; did you mean run? (sternfast --help lists them)\n',
    ],
    [
      ["run", "trip.log", "--rule", "x"],
      "found --rule, which run does not know; did you mean --rules? (sternfast run --help lists them)\n",
    ],
    [["run", "trip.log", "--boat"], "--boat needs a value: --boat FILE\n"],
    [["run", "trip.log", "--boat", "--json"], "--boat needs a value: --boat FILE\n"],
    [["run"], "run needs an input: INPUT…, or input: in the settings\n"],
    [["rehearse", "trip.log"], "rehearse needs rules"],
    [["export"], "export needs a recording: INPUT…\n"],
    [["check"], "check needs a file: FILE…\n"],
    [["run", "nowhere.log"], "There is no file or folder nowhere.log.\n"],
    [
      ["run", "trip.log", "--boat", "bota.yaml"],
      "bota.yaml cannot be read: there is no such file.\n",
    ],
    [["run", "trip.log", "--boat", "."], " cannot be read: it is a folder.\n"],
    [["check", "trip.log.gz"], "trip.log.gz cannot be read: it is no text in UTF-8.\n"],
    [["run", "trip.log", "--page", "8250"], '--page: found "8250", expected HOST:PORT'],
    [["run", "trip.log", "--broker", "localhost"], '--broker: found "localhost", expected mqtt://'],
    [["run", "simulator:harbor-day"], 'did you mean "harbour-day"?\n'],
    [["demo", "--from", "soon"], '--from: found "soon", expected '],
  ])("%j is answered with a sentence and exit code 2", async (typed, sentence) => {
    const { code, says, out } = await said(typed);
    expect(says).toContain(sentence);
    expect([code, out]).toEqual([2, ""]);
  });
});

describe("a recording", () => {
  test("that is cut off is used up to there, and the next one as well", async () => {
    const packed = gzipSync(TRIP.text);
    const later = new SpokenRecording(TRIP.begins + 3_600_000_000).engine(0, 1, { speed: 701 });
    const { code, says, out } = await said(["export", "cut.log.gz", "later.log"], {
      "cut.log.gz": packed.subarray(0, packed.length / 2),
      "later.log": later.text,
    });
    expect(says).toBe(
      "cut.log.gz is cut off: its packed data ends in the middle. What lies before that was used.\n",
    );
    expect(out).toContain("10:00:10.001000Z,engine/0/speed,700,1/min,good");
    expect(out).toContain("11:00:00.901000Z,engine/0/speed,701,1/min,good");
    expect(code).toBe(2);
    const run = await said(["run", "cut.log.gz", "trip.log"], {
      "cut.log.gz": packed.subarray(0, packed.length / 2),
    });
    expect(run.says).toContain("cut.log.gz is cut off");
    expect(run.says).toContain("2026-06-14 10:00:59 UTC");
    expect(run.code).toBe(2);
  });

  test("that is a text of another kind is refused by its first words", async () => {
    const { code, says } = await said(["run", "letter.txt"], { "letter.txt": "Dear Ellen,\n" });
    expect(says).toContain('letter.txt is no recording: it begins with "Dear Ellen,"');
    expect(code).toBe(2);
  });

  test("with lines that cannot be read gives all others, and says which they are", async () => {
    const lines = TRIP.text.split("\n");
    lines[2] = "(1781431200.2) can0 09F2000";
    const { code, says, out } = await said(["export", "trip.log"], {
      "trip.log": lines.join("\n"),
    });
    expect(says).toMatch(/^trip\.log:3: found .+; expected .+\.\n$/);
    expect(out.split("\n").length).toBeGreaterThan(600);
    expect(code).toBe(0);
  });

  test("that is a folder without any says so", async () => {
    const { code, says } = await said(["run", "empty"], { "empty/notes.txt": "nothing" });
    expect(says).toContain("empty");
    expect(code).toBe(2);
  });

  test("that is a folder is its recordings in time order", async () => {
    const second = new SpokenRecording(TRIP.begins + 60_000_000).engine(0, 1, { speed: 900 });
    const { code, out } = await said(["export", "trips"], {
      "trips/b.log": TRIP.text,
      "trips/a.log": second.text,
    });
    const times = out.split("\r\n").slice(1, -1).map((line) => line.slice(0, line.indexOf(",")));
    expect(times.length).toBeGreaterThan(700);
    expect(times).toEqual(times.toSorted());
    expect(code).toBe(0);
  });
});

describe("a boat file", () => {
  const typos =
    "boat: hazel\nbatterys:\n  house: { instnace: 0 }\nengines:\n  port: { instance: 300 }\n";

  test("with mistakes is refused with all of them at once", async () => {
    const { code, says } = await said(["run", "trip.log", "--boat", "boat.yaml"], {
      "boat.yaml": typos,
    });
    const lines = says.trim().split("\n");
    expect(lines[0]).toBe(
      'boat.yaml:2:1: found "batterys", which a boat file does not know; did you mean "batteries"?' +
        " 1 more problem below; the boat file was not used.",
    );
    expect(lines[1]).toMatch(/^boat\.yaml:5:21: found "300"; expected /);
    expect(code).toBe(2);
  });

  test("with mistakes does not hold when it is checked", async () => {
    const { code, says, out } = await said(["check", "boat.yaml"], { "boat.yaml": typos });
    expect(says).toContain("1 more problem below; nothing was changed.");
    expect([code, out]).toEqual([1, ""]);
  });

  test("with two engines that nothing tells apart is refused", async () => {
    const { code, says } = await said(["run", "trip.log", "--boat", "boat.yaml"], {
      "boat.yaml": "engines:\n  port: { instance: 0 }\n  starboard: { instance: 0 }\n",
    });
    expect(says).toMatch(
      /^boat\.yaml:3:3: engine "starboard" and engine "port" \(line 2\) both say instance 0, /,
    );
    expect(code).toBe(2);
  });
});

test("a rule with a pressure in volts is refused, with what would be right", async () => {
  const rule = `alarms:
  - tag: oil-low
    title: Oil low
    each: engine
    low: { signal: oil-pressure, setpoint: 10 V }
    priority: alarm
    consequence: The bearings run dry.
    response: { aboard: Stop it., ashore: Call. }
`;
  for (const [command, code] of [["run", 2], ["rehearse", 2]] as const) {
    const answer = await said([command, "trip.log", "--rules", "rules.yaml"], {
      "rules.yaml": rule,
    });
    expect(answer.says).toBe(
      "rules.yaml:5:44: the limit 10 V is a voltage; engine oil-pressure is a pressure; " +
        "write it as a pressure, such as 10 psi. No rule of this set was used.\n",
    );
    expect(answer.code).toBe(code);
  }
  const checked = await said(["check", "rules.yaml"], { "rules.yaml": rule });
  expect(checked.code).toBe(1);
});
