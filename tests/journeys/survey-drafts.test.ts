import { expect, test } from "vitest";
import { survey } from "../../src/commands/survey.ts";
import { surveyReportSchema } from "../../src/survey/report-schema.ts";
import { inside } from "../support/inside.ts";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";

/** What `survey --json` says of recordings or other inputs. */
async function surveyed(folder: string, ...typed: readonly string[]) {
  const { code, error, out } = await inside(survey, [...typed, "--json"], folder);
  expect([code, error]).toEqual([0, ""]);
  return surveyReportSchema.loose().parse(JSON.parse(out));
}

test("a draft asks whether an engine with a high number is a generator's", async () => {
  const folder = ownFolder();
  const { draft } = await surveyed(folder, "simulator:generator");
  expect(draft).toContain(
    "main: { instance: 2 } # sent by device E-0103; a generator's? then under generators:",
  );
  const moved = draft.replace("\nengines:", "\ngenerators:");
  await Deno.writeTextFile(`${folder}/boat.yaml`, moved);
  const typed = ["simulator:generator", "--boat", "boat.yaml"];
  const { signals } = await surveyed(folder, ...typed);
  expect(signals.map(({ name }) => name)).toContain("generator/main/speed");
});

test("a draft names what has no number, and nothing by a number that is reserved", async () => {
  const recording = new SpokenRecording()
    .say(0, 130311, { place: "inside", temperature: 290 }, 7)
    .say(0, 130312, { instance: 0, place: "inside", temperature: 290 }, 8);
  // Speed of engine 254, as one tells that was never set.
  const lines = `${recording.text}(1781431201.000000) can0 09F20009#FE00197FFFFFFFFF\n`;
  const folder = ownFolder({ "trip.log": lines });
  const { draft } = await surveyed(folder, "trip.log");
  expect(draft).toContain(
    "#   inside-instance-0: { place: inside, instance: 0 } # sent by address 8",
  );
  expect(draft).toContain("#   inside-unnumbered: { place: inside } # sent by address 7");
  expect(draft).toContain("# engine/254: sent by address 9, without a number");
  expect(draft).not.toContain("instance: 254");
});

test("a draft says where an engine's own temperatures belong, and there check accepts them", async () => {
  const recording = new SpokenRecording().engine(0, 5, { speed: 1500, oil: 45 })
    .say(0, 130316, { instance: 2, place: "exhaust-gas", temperature: 600 }, 40);
  const folder = ownFolder({ "trip.log": recording.text });
  const { draft } = await surveyed(folder, "trip.log");
  const tie = /an engine's own go to its line, as in (exhaust: .*)\n/.exec(draft)?.[1];
  await Deno.writeTextFile(
    `${folder}/boat.yaml`,
    draft.replace("main: { inst", `main: { ${tie}, inst`),
  );
  const { signals } = await surveyed(folder, "trip.log", "--boat", "boat.yaml");
  expect(signals.map(({ name }) => name)).toContain("engine/main/exhaust-temperature");
});

test("of two buses without a boat file, each thing has one name, and the draft names both buses", async () => {
  const one = new SpokenRecording().engine(0, 5, { speed: 1500, oil: 45 }).text;
  const other = one.replaceAll(" can0 ", " can1 ");
  const lines = `${one}${other}`.trim().split("\n").toSorted();
  const folder = ownFolder({ "trip.log": `${lines.join("\n")}\n` });
  const { engines, draft } = await surveyed(folder, "trip.log");
  expect(engines.map(({ engine }) => engine).toSorted()).toEqual(["0", "can1-0"]);
  expect(draft).toContain("main: { bus: can0 }");
  expect(draft).toContain("can1: { bus: can1 }");
  expect(draft).toContain("{ instance: 0, bus: can1 }");
});

test("of two engines with a bus each, the first bus is taken for port, whichever is heard first", async () => {
  const line = (bus: string, second: number) =>
    `(${1_781_431_200 + second}.000000) ${bus} 0CF00400#F0FFFF401FFFFFFF\n`;
  const lines = Array.from({ length: 5 }, (_, i) => line("can2", i) + line("can1", i)).join("");
  const { draft } = await surveyed(ownFolder({ "trip.log": lines }), "trip.log");
  expect(draft).toContain("  port: { bus: can1, address: 0 }");
  expect(draft).toContain("  starboard: { bus: can2, address: 0 }");
});
