import { gunzipSync, gzipSync } from "node:zlib";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { allRuns } from "../../src/commands/rehearsing/threads.ts";
import { readBoatFile } from "../../src/boat/boat-file.ts";
import { EXAMPLE_FOLDER } from "../support/example-recordings.ts";
import { rulesOf } from "../support/hand-made-boat.ts";
import { ROOT, sternfast } from "../support/sternfast.ts";

const EXAMPLE = `${ROOT}/${EXAMPLE_FOLDER}`;
const SETTINGS = ["--settings", `${EXAMPLE}/sternfast.yaml`];

let folder: string;

beforeEach(async () => {
  folder = await Deno.makeTempDir();
});
afterEach(() => Deno.remove(folder, { recursive: true }));

async function lay(name: string, as = name): Promise<void> {
  await Deno.copyFile(`${EXAMPLE}/recordings/${name}`, `${folder}/${as}`);
}

describe("sternfast rehearse", () => {
  test("holds the example's recordings to what they must bring", async () => {
    const { code, out, error } = await sternfast(["rehearse", "recordings"], { folder: EXAMPLE });
    expect(error).toBe("");
    expect(code).toBe(0);
    expect(out).toContain("All 3 files of expectations hold.");
  });

  test("ends with 1 when an expectation does not hold, and says by how much", async () => {
    await lay("oil-pressure-falls.log.gz", "trip.log.gz");
    await Deno.writeTextFile(
      `${folder}/trip.expect.yaml`,
      "expect:\n" +
        "  - { alarm: oil-pressure-low-under-load, subject: port, raised: [0:01:00, 0:01:04] }\n",
    );
    const { code, out } = await sternfast(["rehearse", "trip.log.gz", ...SETTINGS], { folder });
    expect(code).toBe(1);
    expect(out).toContain(
      "'Low oil pressure under load', port, was due between 0:01:00 and 0:01:04 and came at " +
        "0:01:05.413, 1.4 s too late. Its on-delay is 3 s; with 1 s it would have been in time.",
    );
  });

  test("drafts expectations that hold, and leaves those that are there alone", async () => {
    await lay("charger-fault.log.gz", "night.log.gz");
    const draft = ["rehearse", "night.log.gz", "--write-expectations", ...SETTINGS];
    expect((await sternfast(draft, { folder })).error).toContain("night.expect.yaml was drafted");
    const text = await Deno.readTextFile(`${folder}/night.expect.yaml`);
    expect(text).toContain("alarm: charger-in-fault");
    const again = await sternfast(draft, { folder });
    expect(again.code).toBe(0);
    expect(again.out).toContain("they hold");
    expect(again.error).toContain("is there already and was left as it is");
    expect(await Deno.readTextFile(`${folder}/night.expect.yaml`)).toBe(text);
  });

  test("advises no other delay where a person put the alarm aside until it was too late", async () => {
    await lay("oil-pressure-falls.log.gz", "trip.log.gz");
    const files = {
      "rules.yaml": "alarms: [{ tag: fast, title: Fast, each: engine, priority: alarm, " +
        "high: { signal: speed, setpoint: 1800 rpm }, on-delay: 20 s, consequence: It wears., " +
        "response: { aboard: Ease it., ashore: Call. } }]\n",
      "trip.expect.yaml": "expect: [{ alarm: fast, subject: port, raised: [0:00:50, 0:01:05] }]\n" +
        "anything-else: yes\n",
      "answers.yaml": "answers:\n  - { at: 2026-06-14T10:00:38Z, alarm: fast, subject: port, " +
        "answer: shelve, length: 32 s }\n",
    };
    for (const [name, text] of Object.entries(files)) {
      await Deno.writeTextFile(`${folder}/${name}`, text);
    }
    const typed = ["trip.log.gz", "--rules", "rules.yaml", "--answer", "answers.yaml"];
    const { out } = await sternfast(["rehearse", ...typed, ...SETTINGS], { folder });
    expect(out).toMatch(/and came at 0:01:0\d\.\d+, [\d.]+ s too late\.\n/);
  });

  test("says of what is no file that no expectations can lie beside it", async () => {
    const typed = ["rehearse", "simulator:key-off", "--write-expectations", ...SETTINGS];
    const { code, error } = await sternfast(typed, { folder });
    expect(code).toBe(0);
    expect(error).toBe(
      "simulator:key-off: no file can lie beside it, and nothing was drafted.\n",
    );
  });

  test("lets people answer as they once did", async () => {
    await lay("oil-pressure-falls.log.gz");
    const answer =
      "{ at: 2026-06-14T10:01:20Z, alarm: oil-pressure-low-under-load, subject: port, " +
      "who: Ellen }";
    const early = "{ at: 2026-06-14T10:00:30Z, alarm: oil-pressure-low-under-load, subject: port }";
    await Deno.writeTextFile(`${folder}/answers.yaml`, `answers:\n  - ${answer}\n  - ${early}\n`);
    const typed = [
      "rehearse",
      "oil-pressure-falls.log.gz",
      "--answer",
      "answers.yaml",
      ...SETTINGS,
    ];
    const { code, out, error } = await sternfast(typed, { folder });
    expect(code).toBe(0);
    expect(out.match(/.*answered.*/g)).toEqual([
      expect.stringContaining("0:01:19.992  alarm: answered by Ellen"),
    ]);
    expect(error).toContain(
      "2026-06-14T10:00:30.000Z, acknowledge of oil-pressure-low-under-load port by somebody: it " +
        "changed nothing. This alarm has not been raised yet.",
    );
  });

  test("lets people shelve what they do not want to hear of", async () => {
    await lay("oil-pressure-falls.log.gz");
    const about = "alarm: oil-pressure-low-under-load, subject: port";
    await Deno.writeTextFile(
      `${folder}/answers.yaml`,
      // The first belongs to another trip, and is not about this one.
      `answers:\n  - { at: 2026-06-13T10:00:00Z, ${about}, answer: out-of-service, length: 48 h }\n` +
        `  - { at: 2026-06-14T10:01:20Z, ${about}, answer: shelve, length: 1 h, who: Ellen }\n`,
    );
    const recording = "oil-pressure-falls.log.gz";
    const typed = ["rehearse", recording, "--answer", "answers.yaml", "--json", ...SETTINGS];
    const { code, out, error } = await sternfast(typed, { folder });
    expect(error).toBe("");
    expect(code).toBe(0);
    const held = out.trimEnd().split("\n").map((line) => JSON.parse(line))
      .filter(({ tag }) => tag === "oil-pressure-low-under-load")
      .map(({ hold, by, time }) => [hold, by, time]);
    expect(held).toEqual([
      ["none", "", expect.any(String)],
      ["shelved", "Ellen", "2026-06-14T10:01:20.000000Z"],
    ]);
  });

  test("lets people say who is aboard, as they once did", async () => {
    await lay("oil-pressure-falls.log.gz");
    await Deno.writeTextFile(
      `${folder}/rules.yaml`,
      "alarms:\n" +
        "  - { tag: nobody-aboard, title: Nobody is aboard, priority: warning, consequence: Nobody " +
        "sees to her., response: { aboard: Say so., ashore: Ask. }, reads: { signal: " +
        "boat/condition, one-of: [left] } }\n",
    );
    await Deno.writeTextFile(
      `${folder}/answers.yaml`,
      "conditions:\n" +
        "  - { at: 2026-06-14T09:00:00Z, condition: left }\n" +
        "  - { at: 2026-06-14T09:30:00Z, condition: aboard, who: Ellen }\n" +
        "  - { at: 2026-06-14T10:01:00Z, condition: left, who: Ellen }\n" +
        "  - { at: 2026-06-14T10:02:00Z, condition: anchored, who: Ellen }\n",
    );
    const typed = [
      ...["rehearse", "oil-pressure-falls.log.gz", "--answer", "answers.yaml", "--json"],
      ...["--boat", `${EXAMPLE}/boat.yaml`, "--rules", "rules.yaml"],
    ];
    const { code, out, error } = await sternfast(typed, { folder });
    expect(error).toBe("");
    expect(code).toBe(0);
    const came = out.trimEnd().split("\n").map((line) => JSON.parse(line))
      .filter(({ tag }) => tag === "nobody-aboard").map(({ to, time }) => [to, time]);
    expect(came).toEqual([
      ["unacknowledged", "2026-06-14T10:01:00.000000Z"],
      ["returned-unacknowledged", "2026-06-14T10:02:00.000000Z"],
    ]);
  });

  test("checks a file of answers", async () => {
    await Deno.writeTextFile(
      `${folder}/answers.yaml`,
      "answers:\n  - { at: 2026-06-14T10:01:20Z, alarm: high-water, answer: shelve }\n",
    );
    const { code, error } = await sternfast(["check", "answers.yaml"], { folder });
    expect(code).toBe(1);
    expect(error).toContain('answers.yaml:2:5: the answer shelve needs "length"');
  });

  test("explains answers that cannot be read", async () => {
    await lay("oil-pressure-falls.log.gz");
    await Deno.writeTextFile(
      `${folder}/answers.yaml`,
      "answers:\n  - { at: ten o'clock, alarm: high-water }\n" +
        "  - { at: 2026-06-14T10:01:20Z, alarm: hihg-water }\n",
    );
    const typed = [
      "rehearse",
      "oil-pressure-falls.log.gz",
      "--answer",
      "answers.yaml",
      ...SETTINGS,
    ];
    const { code, error } = await sternfast(typed, { folder });
    expect(code).toBe(2);
    expect(error).toContain("answers.yaml:2:11: ");
    expect(error).toContain("expected a time, such as 2026-06-14T10:12:03Z");
  });

  describe("ends with 2, without a stack, for", () => {
    const rehearsed = (...typed: string[]) =>
      sternfast(["rehearse", ...typed, ...SETTINGS], { folder });

    test("an expectation for a rule that does not exist", async () => {
      await lay("key-off.log.gz");
      await Deno.writeTextFile(`${folder}/key-off.expect.yaml`, "never: [oil-presure-switch]\n");
      const { code, error } = await rehearsed("key-off.log.gz");
      expect(code).toBe(2);
      expect(error).toBe(
        'key-off.expect.yaml:1:9: found "oil-presure-switch", which this set of rules does not ' +
          'know; did you mean "oil-pressure-switch"? Nothing was rehearsed.\n',
      );
    });

    test("a window that ends before it begins, even where a mark hides that at first", async () => {
      await lay("key-off.log.gz");
      await Deno.writeTextFile(
        `${folder}/key-off.expect.yaml`,
        "marks: { lost: { signal: engine/starboard/speed, first: over 1900 rpm } }\n" +
          "expect:\n  - { alarm: engine-sender-lost, subject: starboard, raised: [lost, 0:00:01] }\n",
      );
      const { code, error } = await rehearsed("key-off.log.gz");
      expect(code).toBe(2);
      expect(error).toContain("key-off.expect.yaml:3:62: this window ends before it begins");
    });

    test("a recording that ends early, after all that can be read", async () => {
      const whole = await Deno.readFile(`${EXAMPLE}/recordings/oil-pressure-falls.log.gz`);
      await Deno.writeFile(`${folder}/cut.log.gz`, whole.subarray(0, whole.length >> 1));
      const { code, out, error } = await rehearsed("cut.log.gz");
      expect(code).toBe(2);
      expect(out).toContain("Low oil pressure under load, port");
      expect(error).toContain("What lies before that was used.");
    });

    test("a file that is no recording, after all that are", async () => {
      await lay("oil-pressure-falls.log.gz");
      await Deno.writeTextFile(`${folder}/letter.txt`, "Dear all,\n");
      await Deno.writeTextFile(`${folder}/letter.expect.yaml`, "expect: []\n");
      const before = 'letter.txt is no recording: it begins with "Dear all,". It was left out.\n';
      for (const inputs of [["."], ["letter.txt", "oil-pressure-falls.log.gz"]]) {
        const { code, out, error } = await rehearsed(...inputs);
        expect(code).toBe(2);
        expect(out).toContain("Low oil pressure under load, port");
        expect(error).toContain(before);
      }
      expect(await rehearsed("letter.txt", "letter.txt")).toMatchObject({ code: 2, out: "" });
    });

    test("a folder without a recording, which may lie in the folders inside", async () => {
      await Deno.mkdir(`${folder}/season/may`, { recursive: true });
      await Deno.mkdir(`${folder}/season/june`);
      await lay("key-off.log.gz", "season/june/key-off.log.gz");
      const { error } = await rehearsed("season");
      expect(error).toBe(
        "The folder season holds no recordings itself; name the folders in it, such as " +
          "season/june. Nothing was rehearsed.\n",
      );
      const { code, out, error: left } = await rehearsed("season/june", "season/may");
      expect(code).toBe(2);
      expect(out).toContain("Engine no longer heard, starboard");
      expect(left).toBe("The folder season/may holds no recordings. It was left out.\n");
    });

    test("a recording without one line that can be read", async () => {
      await Deno.writeTextFile(`${folder}/letter.txt`, "Dear all,\n");
      const { code, error } = await rehearsed("candump:letter.txt");
      expect(code).toBe(2);
      expect(error).toContain("letter.txt:1: found Dear all,; expected a time");
    });

    test.each(["tcp:127.0.0.1:1", "can0=socketcan:can0"])("a live bus, %s", async (input) => {
      const { code, error } = await rehearsed(input);
      expect(code).toBe(2);
      expect(error).toBe(
        `rehearse needs a recording, and ${input} has no end; sternfast record makes one of it.\n`,
      );
    });

    test("no matching files", async () => {
      expect(await rehearsed("trips/*.log")).toMatchObject({ code: 2, out: "" });
      await lay("key-off.expect.yaml");
      expect(await rehearsed(".")).toMatchObject({ code: 2, out: "" });
    });

    test("expectations without their recording", async () => {
      await lay("key-off.log.gz", "other.log.gz");
      await lay("key-off.expect.yaml");
      const { code, error } = await rehearsed(".");
      expect(code).toBe(2);
      expect(error).toContain("key-off.expect.yaml: no recording of that name lies beside it");
    });
  });
});

describe("recordings beside each other", () => {
  /** One recording in four that meet, and two that stand alone. */
  async function layTrips(): Promise<string[]> {
    const text = gunzipSync(await Deno.readFile(`${EXAMPLE}/recordings/oil-pressure-falls.log.gz`))
      .toString();
    const lines = text.trimEnd().split("\n");
    const inputs: string[] = [];
    const quarter = Math.ceil(lines.length / 4);
    for (let part = 0; part < 4; part++) {
      const piece = lines.slice(part * quarter, (part + 1) * quarter).join("\n");
      await Deno.writeFile(`${folder}/a${part}.log.gz`, gzipSync(`${piece}\n`));
      inputs.push(`a${part}.log.gz`);
    }
    await lay("charger-fault.log.gz");
    await lay("key-off.log.gz");
    return [...inputs, "charger-fault.log.gz", "key-off.log.gz"];
  }

  test("tell of what lies in the one before it that it was before", async () => {
    await layTrips();
    await Deno.writeTextFile(
      `${folder}/a1.expect.yaml`,
      "expect:\n  - { alarm: start-voltage-low, subject: start, raised: [0:00:10, 0:00:20] }\n" +
        "anything-else: yes\n",
    );
    const inputs = ["a0.log.gz", "a1.log.gz"];
    const { out } = await sternfast(["rehearse", ...inputs, ...SETTINGS], { folder });
    expect(out).toMatch(
      /for 1\.5 s at most, from 0:00:49\.\d+ before this recording began; its on-delay is 5 min/,
    );
  });

  test("bring the same on one thread and on three, wherever a thread begins", async () => {
    const { boat } = readBoatFile("boat.yaml", await Deno.readTextFile(`${EXAMPLE}/boat.yaml`));
    if (boat === undefined) throw new Error("the example boat is faulty");
    const rules = (await Promise.all(
      ["bilges", "engines", "power"].map(async (name) =>
        rulesOf(await Deno.readTextFile(`${EXAMPLE}/rules/${name}.yaml`))
      ),
    )).flat();
    const inputs = await layTrips();
    const settings = { folder, boat, rules, answers: 60_000_000, tracing: true, memory: null };
    const sizes = inputs.map(() => 0);
    const brought = async (threads: number, gaps: number[], order = { inputs, ...settings }) => {
      const stopped = new AbortController().signal;
      const runs = allRuns(order, { threads, stopped, gaps, sizes });
      return JSON.stringify(await Array.fromAsync(runs));
    };
    const serial = await brought(1, []);
    const runs: { first: number; next: number }[] = JSON.parse(serial);
    expect(runs.map(({ first, next }) => [first, next])).toEqual([[0, 4], [4, 5], [5, 6]]);
    expect(await brought(3, [9, 9, 9, 9, 9, 9])).toBe(serial);
    expect(await brought(3, [9, 1, 1, 1, 9, 9])).toBe(serial);
    expect(await brought(2, [1, 2, 3, 4, 5, 6])).toBe(serial);

    // The thread that asks is through first, and begins where no run begins.
    const shortFirst = { ...settings, inputs: ["key-off.log.gz", ...inputs.slice(0, 4)] };
    expect(await brought(2, [9, 9, 1, 2, 3], shortFirst)).toBe(await brought(1, [], shortFirst));
  });

  test("that meet bring what they brought before they were cut", async () => {
    await layTrips();
    const whole = await sternfast(
      ["rehearse", "recordings/oil-pressure-falls.log.gz", "--json"],
      { folder: EXAMPLE },
    );
    const parts = await sternfast(
      ["rehearse", "a0.log.gz", "a1.log.gz", "a2.log.gz", "a3.log.gz", "--json", ...SETTINGS],
      { folder },
    );
    expect(parts.out).toBe(whole.out);
    expect(parts.out.split("\n").length).toBeGreaterThan(2);
  });
});
