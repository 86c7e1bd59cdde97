import { describe, expect, test } from "vitest";
import { isoTime, MILLISECOND, SECOND } from "../../src/ground/time.ts";
import { survey } from "../../src/commands/survey.ts";
import { surveyReportSchema } from "../../src/survey/report-schema.ts";
import { inside } from "../support/inside.ts";
import { lineServer } from "../support/line-server.ts";
import { needs, TRACTOR_DATA } from "../support/needs.ts";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { start, sternfast } from "../support/sternfast.ts";

/** What `survey --json` says of recordings or other inputs. */
async function surveyed(folder: string, ...typed: readonly string[]) {
  const { code, error, out } = await inside(survey, [...typed, "--json"], folder);
  expect([code, error]).toEqual([0, ""]);
  return reportIn(out);
}

function reportIn(out: string) {
  return surveyReportSchema.loose().parse(JSON.parse(out));
}

describe("situation 1: two engine gateways at one instance", () => {
  test("the draft tells them apart, is accepted, and each engine then has its own hours", async () => {
    const folder = ownFolder();
    const drafting = ["survey", "simulator:two-gateways-one-instance", "--draft", "boat.yaml"];
    const first = await sternfast(drafting, { folder });
    expect([first.code, first.error]).toEqual([
      0,
      "The boat file to begin with is in boat.yaml.\n",
    ]);
    expect(first.out).toContain("Sent by Engine gateway at 16 and Engine gateway at 17.");

    const checked = await sternfast(["check", "boat.yaml"], { folder });
    expect(checked).toMatchObject({ code: 0, out: "boat.yaml: a boat file without a mistake.\n" });

    const { engines, signals } = await surveyed(
      folder,
      "simulator:two-gateways-one-instance",
      "--boat",
      "boat.yaml",
    );
    expect(engines.map(({ engine }) => engine)).toEqual(["port", "starboard"]);
    expect(new Set(engines.map(({ hours }) => hours)).size).toBe(2);
    expect(signals.filter(({ verdict }) => verdict === "two-senders")).toEqual([]);
    const speeds = signals.filter(({ name }) => name.endsWith("/speed")).map(({ value }) => value);
    expect(Math.max(...speeds.map(Number))).toBeGreaterThan(2900);
    expect(Math.min(...speeds.map(Number))).toBeLessThan(800);
  });

  test("of a message that tells of two things, both are called by who they are", async () => {
    const recording = new SpokenRecording();
    for (let second = 0; second < 30; second++) {
      for (const source of [3, 4]) {
        const told = { "course-over-ground": 0.1, "speed-over-ground": source };
        const values = { ...told, "course-reference": "true" };
        recording.say(second + source / 100, 129026, values, source);
      }
    }
    const { signals } = await surveyed(ownFolder({ "trip.log": recording.text }), "trip.log");
    const names = ["course/over-ground", "speed/over-ground"];
    expect(signals.map(({ name }) => name)).toEqual(names);
    for (const { cause, senders } of signals) {
      expect(cause).toMatch(/^Two devices say they are this one/);
      expect(senders.map(({ address }) => address)).toEqual([3, 4]);
    }
  });

  test("at one address too: that is said, and no instance is asked for", async () => {
    const recording = new SpokenRecording();
    for (let second = 0; second < 60; second++) {
      // Two identity numbers, each of which claims the address again when the other has.
      for (const [place, identity] of [1000, 2000].entries()) {
        const name = { "identity-number": identity, "arbitrary-address": "yes" };
        recording.say(second + place / 10, 60928, name, 40);
        const told = { instance: 0, voltage: 12 + place, current: null, temperature: null };
        recording.say(second + place / 10 + 0.05, 127508, told, 40);
      }
    }
    const folder = ownFolder({ "trip.log": recording.text });
    const { draft, signals } = await surveyed(folder, "trip.log");
    expect(draft).toMatch(/device-2: .* # without an address/);
    expect(signals.find(({ name }) => name === "battery/0/voltage")).toMatchObject({
      verdict: "two-senders",
      cause: "Two devices claim one address by turns: one of them must take another.",
    });
    const { out } = await inside(survey, ["trip.log"], folder);
    expect(out).toMatch(/Two devices stay at address 40: \w{16} and \w{16}\./);
  });

  test("a boat file that is there already is never written over", async () => {
    const folder = ownFolder({ "boat.yaml": "boat: mine\n" });
    const typed = ["simulator:key-off", "--draft", "boat.yaml"];
    const { code, error } = await inside(survey, typed, folder);
    expect(code).toBe(2);
    expect(error).toContain("there is a file of this name already, which was left as it is");
    expect(await Deno.readTextFile(`${folder}/boat.yaml`)).toBe("boat: mine\n");
  });
});

test("trouble codes are told in words, with how often, what is over after what is not", async () => {
  const says = new SpokenRecording().engine(0, 1, { speed: 700, oil: 45 });
  // As an engine's computer sends them: one code in a frame, then none. Two codes want more frames.
  const lines = [
    "(1781431202.000000) can0 18FECA00#04FF6400010BFFFF",
    "(1781431203.000000) can0 18FECB00#04FF6E000003FFFF",
    "(1781431204.000000) can0 18FECA00#00FF00000000FFFF",
    "(1781431204.500000) can0 18FECA03#04FFA0F11F82FFFF",
    "(1781431204.600000) can0 18FECB03#04FF6F000100FFFF",
  ].join("\n");
  const folder = ownFolder({ "trip.log": `${says.text}${lines}\n` });
  const { out } = await inside(survey, ["trip.log"], folder);
  const chapter = out.slice(out.indexOf("Trouble codes\n")).split("\n\n")[0].split("\n").slice(2);
  expect(chapter).toEqual([
    "  address 0 on can0",
    "    SPN 100 FMI 1, no longer active, 11 times: engine oil, pressure: far below range.",
    "    SPN 110 FMI 0, no longer active, 3 times: coolant, temperature: far above range.",
    "  address 3 on can0",
    "    SPN 61856 FMI 31, active, 2 times: see the engine's manual for the part: condition exists. The",
    "    SPN is a guess: it is laid out in an old way.",
    "    SPN 111 FMI 1, no longer active: coolant, level: far below range.",
  ]);
});

describe("in spring", () => {
  test("it says what spoke in autumn and does not now", async () => {
    const both = new SpokenRecording().engine(0, 5, { speed: 700, oil: 45, source: 1 })
      .say(5, 127508, { instance: 0, voltage: 12.6, current: 1, temperature: 20 }, 2);
    const one = new SpokenRecording().engine(0, 5, { speed: 700, source: 1 });
    const folder = ownFolder({ "autumn.log": both.text, "spring.log": one.text });
    const autumn = await inside(survey, ["autumn.log", "--json"], folder);
    await Deno.writeTextFile(`${folder}/autumn.json`, autumn.out);

    const typed = ["spring.log", "--against", "autumn.json"];
    const { out } = await inside(survey, typed, folder);
    const chapter = out.slice(out.indexOf("Spoke on 2026-06-14 and not now")).split("\n\n")[0];
    expect(chapter).toMatch(/address 2 on can0 +device not heard/);
    expect(chapter).toMatch(/engine\/0\/oil-pressure +sent as not available/);
    expect(chapter).toMatch(/battery\/0\/voltage +not heard/);
    expect(chapter).not.toContain("engine/0/speed");

    const same = await inside(survey, ["autumn.log", "--against", "autumn.json"], folder);
    expect(same.out).toContain("Nothing: whatever spoke then speaks now.");
  });

  test("it knows things by their senders where a boat file has named them since", async () => {
    const dumb = new SpokenRecording().engine(0, 5, { speed: 700, oil: 45, source: 1 })
      .say(1, 130316, { instance: 2, place: "exhaust-gas", temperature: 600 }, 3);
    const named = "engines: { port: { instance: 0, exhaust: { temperature-instance: 2 } } }\n";
    const without = new SpokenRecording().engine(0, 5, { speed: 700, source: 1 })
      .say(1, 130316, { instance: 2, place: "exhaust-gas", temperature: 600 }, 3);
    const folder = ownFolder({ "autumn.log": dumb.text, "spring.log": without.text });
    const autumn = await inside(survey, ["autumn.log", "--json"], folder);
    await Deno.writeTextFile(`${folder}/autumn.json`, autumn.out);
    await Deno.writeTextFile(`${folder}/boat.yaml`, named);
    const typed = ["spring.log", "--boat", "boat.yaml", "--against", "autumn.json"];
    const { out } = await inside(survey, typed, folder);
    const chapter = out.slice(out.indexOf("Spoke on 2026-06-14 and not now")).split("\n\n")[0];
    expect(chapter.split("\n").slice(2)).toEqual([
      "  engine/0/oil-pressure  sent as not available",
      "  2 signals of then have other names now: by another boat file, or instances that were set anew.",
    ]);
  });

  test("a file that is no survey is refused", async () => {
    const folder = ownFolder({ "other.json": "{}" });
    const typed = ["simulator:key-off", "--against", "other.json"];
    const { code, error } = await inside(survey, typed, folder);
    expect([code, error]).toEqual([
      2,
      "--against: other.json is no survey; expected what sternfast survey --json has printed.\n",
    ]);
  });
});

describe("a commissioning in three passes", () => {
  const off = new SpokenRecording()
    .say(0, 127508, { instance: 0, voltage: 12.6, current: 1, temperature: null }).text;
  const on = new SpokenRecording().engine(0, 5, { speed: 0 }).text;
  const running = new SpokenRecording().engine(0, 30, { speed: 700, oil: 45 }).text;

  test("puts the verdicts of three recordings side by side", async () => {
    const folder = ownFolder({ "off.log": off, "on.log": on, "running.log": running });
    const typed = ["off.log", "on.log", "running.log", "--passes"];
    const { code, out } = await inside(survey, typed, folder);
    expect(code).toBe(0);
    expect(out).toMatch(/key off +key on +running/);
    expect(out).toMatch(/engine\/0\/oil-pressure +not heard +not available +talking/);
  });

  test("knows devices that said who they are a step before", async () => {
    const claimed =
      new SpokenRecording().say(0, 60928, { "identity-number": 77, "arbitrary-address": "yes" })
        .engine(1, 5, { speed: 0 }).text;
    const folder = ownFolder({ "off.log": off, "on.log": claimed, "running.log": running });
    const { out } = await inside(survey, ["off.log", "on.log", "running.log", "--passes"], folder);
    expect(out).toMatch(/can0 address 1: maker 2047, model not heard/);
    expect(out).not.toContain("has not said who it is");
    for (const step of ["key off", "key on", "running"]) {
      expect(out).toContain(`Health of the bus: ${step}`);
    }
  });

  test("drafts a boat file of the last step, and compares with an earlier commissioning", async () => {
    const folder = ownFolder({ "off.log": off, "on.log": on, "running.log": running });
    const recordings = ["off.log", "on.log", "running.log"];
    const autumn = await inside(survey, [...recordings, "--passes", "--json"], folder);
    await Deno.writeTextFile(`${folder}/autumn.json`, autumn.out);
    // In spring the engine is not started, and the battery's shunt is silent.
    const spring = ["on.log", "on.log", "on.log", "--passes", "--against", "autumn.json"];
    const { code, error, out } = await inside(survey, [...spring, "--draft", "boat.yaml"], folder);
    expect([code, error]).toEqual([0, "The boat file to begin with is in boat.yaml.\n"]);
    expect(await Deno.readTextFile(`${folder}/boat.yaml`)).toContain("instance: 0");
    const gone = out.slice(out.indexOf("Spoke on 2026-06-14 and not now")).split("\n\n")[0];
    expect(gone).toMatch(/battery\/0\/voltage +not heard/);
    expect(gone).toMatch(/engine\/0\/oil-pressure +sent as not available/);
    expect(gone).not.toContain("engine/0/speed");
    const same = await inside(
      survey,
      [...recordings, "--passes", "--against", "autumn.json"],
      folder,
    );
    expect(same.out).toContain("Nothing: whatever spoke then speaks now.");
  });

  test("waits for the person before each pass of a live input", async () => {
    const gateway = lineServer(new SpokenRecording().battery(0, 30).text);
    const typed = ["survey", `tcp:127.0.0.1:${gateway.port}`, "--passes", "--for", "2 s"];
    const walking = await start(typed, { input: "piped" });
    for (const step of [/Step 1 of 3, key off/, /Step 2 of 3, key on/, /Step 3 of 3, running/]) {
      await walking.until(step);
      await walking.type("\n");
    }
    await walking.process.stdin.close();
    const { code, out } = await walking.finished();
    gateway.close();
    expect(code).toBe(0);
    expect(out).toMatch(/battery\/5\/voltage +talking +talking +talking/);
  });

  test.each(["running.log", "simulator:key-off"])("wants no key turned for %s", async (input) => {
    const folder = ownFolder({ "running.log": running });
    const { code, error } = await inside(survey, [input, "--passes"], folder);
    expect([code, error]).toEqual([
      2,
      `--passes: ${input} is over already; expected one live input, or three recordings: ` +
      "key off, key on, running\n",
    ]);
  });
});

test("a folder of recordings is one survey, called as the person calls it", async () => {
  const folder = ownFolder();
  await Deno.mkdir(`${folder}/season`);
  for (const [day, instance] of [["monday", 0], ["tuesday", 1]] as const) {
    const { text } = new SpokenRecording().say(instance, 127508, { instance, voltage: 12.6 });
    await Deno.writeTextFile(`${folder}/season/${day}.log`, text);
  }
  const { input, signals } = await surveyed(folder, "season");
  expect(input).toBe("season");
  expect(signals.map(({ name }) => name)).toEqual(
    expect.arrayContaining(["battery/0/voltage", "battery/1/voltage"]),
  );
});

test("two recordings of one time are read one after the other, and that is said", async () => {
  const { text } = new SpokenRecording().engine(0, 20, { speed: 700 });
  const folder = ownFolder({ "a.log": text, "b.log": text.replaceAll(" can0 ", " can1 ") });
  const { code, error } = await inside(survey, ["a.log", "b.log"], folder);
  expect(code).toBe(0);
  expect(error).toContain("b.log begins before the recording ahead of it ends, and was read after");
});

test("a recording is read for as long as was said", async () => {
  const recording = new SpokenRecording().engine(0, 60, { speed: 700, oil: 45 });
  const folder = ownFolder({ "trip.log": recording.text });
  const { seconds } = await surveyed(folder, "trip.log", "--for", "20 s");
  expect(seconds).toBeGreaterThan(19);
  expect(seconds).toBeLessThanOrEqual(20);
});

test("a live bus is listened to for as long as was said, then reported", async () => {
  const recording = new SpokenRecording().engine(0, 5, { speed: 700, oil: 45 });
  const listening = await start(["survey", "-", "--for", "2 s", "--json"], { input: "piped" });
  await listening.type(recording.text);
  const { code, out } = await listening.finished();
  await listening.process.stdin.close().catch(() => {});
  expect(code).toBe(0);
  const { frames, signals } = surveyReportSchema.parse(JSON.parse(out));
  expect(frames).toBe(recording.text.trim().split("\n").length);
  expect(signals.map(({ name }) => name)).toContain("engine/0/speed");
});

describe("a gateway whose clock is an hour off", () => {
  const HOUR = 3_600 * SECOND;

  test.each([["behind", -HOUR], ["ahead", HOUR]])("%s changes nothing", async (_, off) => {
    // What it has said in 20 s comes at once, then it is silent for the rest of the time.
    const recording = new SpokenRecording(Date.now() * MILLISECOND + off)
      .engine(0, 20, { speed: 700, oil: 45 })
      .say(20, 130312, {
        "instance": 0,
        "place": "sea",
        "temperature": 290,
        "set-temperature": null,
      });
    const gateway = lineServer(recording.text);
    const input = `tcp:127.0.0.1:${gateway.port}`;
    const { code, out } = await inside(survey, [input, "--for", "3 s", "--json"], ownFolder());
    gateway.close();
    expect(code).toBe(0);
    const { frames, seconds, signals, devices } = reportIn(out);
    expect(frames).toBe(recording.text.trim().split("\n").length);
    expect(seconds).toBeGreaterThan(21);
    expect(seconds).toBeLessThan(60);
    const speed = signals.find(({ name }) => name === "engine/0/speed");
    expect(speed).toMatchObject({ rate: 10, verdict: "not-heard" });
    expect(speed?.lastHeard?.slice(0, 19)).toBe(
      isoTime(recording.begins + 19.9 * SECOND, 3).slice(0, 19),
    );
    const temperature = signals.find(({ name }) => name.endsWith("/temperature"));
    expect(temperature?.verdict).toBe("talking");
    const rate = devices[0].messages.find(({ pgn }) => pgn === 127488)?.rate;
    expect(rate).toBeCloseTo(200 / seconds, 1);
  });
});

test("a bus on which nothing is said is told with what to look at", async () => {
  const { code, out } = await sternfast(["survey", "-"], { input: "" });
  expect(code).toBe(0);
  expect(out).toContain("Nothing was heard on standard input. Is the network switched on");
});

test("what comes without being frames is told, and no fault of the bus", async () => {
  const { out } = await sternfast(["survey", "-"], { input: "$GPGLL,5044.99,N\nhello\n" });
  expect(out).toContain("2 lines came from standard input, and not one of them is a frame.");
  expect(out).not.toContain("Nothing was heard");
});

needs("tractor-data")("a tractor's engine start", () => {
  test("is surveyed: hours 147.55, and a draft by bus and address", async () => {
    const { draft, engines } = await surveyed(TRACTOR_DATA, "start1.log.gz");
    expect(engines).toEqual([{ engine: "can0-0", hours: 147.55 }]);
    expect(draft).toContain("main: { bus: can0, address: 0 }");
    expect(draft).toContain("can0: { bus: can0, speaks: j1939 }");
    const folder = ownFolder({ "boat.yaml": draft });
    const checked = await sternfast(["check", "boat.yaml"], { folder });
    expect(checked).toMatchObject({ code: 0, out: "boat.yaml: a boat file without a mistake.\n" });
  });
});
