import { expect, test } from "vitest";
import { survey } from "../../src/commands/survey.ts";
import { surveyReportSchema } from "../../src/survey/report-schema.ts";
import { inside } from "../support/inside.ts";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";

test("messages that nobody here can read are told by maker, as often as they came", async () => {
  const line = (second: number, data: string) =>
    `(${1_781_431_200 + second}.000000) can0 18FF0005#${data}\n`;
  // The first two bytes name the maker, 2000, and the industry.
  const lines = Array.from({ length: 41 }, (_, i) => line(i * 30, "D09F0102030405FF")).join("") +
    `(1781431201.000000) can0 18FF0107#D09F0102030405FF\n` +
    // One message of a maker's own, in two frames.
    `(1781431201.000000) can0 19FF0007#000AD09F01020304\n` +
    `(1781431201.001000) can0 19FF0007#0105060708FFFFFF\n`;
  const { out } = await inside(survey, ["trip.log"], ownFolder({ "trip.log": lines }));
  expect(out).toMatch(/maker 2000 +PGN 65280 +address 5 on can0 +41 times +one in 30 s +d0 9f 01/);
  expect(out).toMatch(/maker 2000 +PGN 65281 +address 7 on can0 +once +d0 9f 01/);
  expect(out).toMatch(/maker 2000 +PGN 130816 +address 7 on can0 +2 frames/);
});

test("a message of which nobody can say what it is about is told, and why", async () => {
  const boat = `batteries: { house: { instance: 0, device: shunt } }
devices: { shunt: { serial: "SH-1" } }
`;
  const recording = new SpokenRecording();
  for (let second = 0; second < 10; second++) {
    recording.say(second, 127508, { instance: 0, voltage: 12.5 }, 32);
    recording.say(second + 0.1, 127505, { level: 50, fluid: "fuel" }, 33);
  }
  const folder = ownFolder({ "trip.log": recording.text, "boat.yaml": boat });
  const { out } = await inside(survey, ["trip.log", "--boat", "boat.yaml"], folder);
  const text = out.replaceAll(/\s+/g, " ");
  expect(text).toContain("battery/house: not heard. The boat file names it; nothing that has said");
  expect(text).toMatch(/address 32 on can0: 127508 battery status: came.*switch the network off/);
  expect(text).toMatch(/address 33 on can0: 127505 fluid level: came.*gives no instance or kind/);
});

test("error frames are all told, and how many of them came at power-up", async () => {
  const seconds = Array.from({ length: 70 }, (_, second) => second);
  const lines = seconds.flatMap((second) => [
    `(${1_781_431_200 + second}.000000) can0 09F20001#00C05DFFFF7FFFFF`,
    // As the kernel reports an error on the bus: a protocol violation.
    ...[1, 2, 3, 40, 41, 69].includes(second)
      ? [`(${1_781_431_200 + second}.500000) can0 20000008#0000000000000000`]
      : [],
  ]);
  const folder = ownFolder({ "trip.log": `${lines.join("\n")}\n` });
  const { out } = await inside(survey, ["trip.log"], folder);
  expect(out).toContain("6 error frames (3 in the 30 s after power-up)");
});

test("a bus that carries nothing but errors is asked for its bit rate, however short the survey", async () => {
  const lines = Array.from(
    { length: 20 },
    (_, i) => `(${(1_781_431_200 + i / 10).toFixed(6)}) can0 20000008#0000040000000000\n`,
  );
  const folder = ownFolder({ "trip.log": lines.join("") });
  const { out } = await inside(survey, ["trip.log"], folder);
  expect(out).toContain("Error frames tell of: protocol violation 20.");
  expect(out).toMatch(/Not one whole frame came: commonly the bus runs at another bit rate/);
});

test("an error now and then in hours is no reason to measure the wiring, some in a minute are", async () => {
  const surveyed = async (errors: readonly number[]) => {
    const seconds = Array.from({ length: 1200 }, (_, second) => second);
    const lines = seconds.flatMap((second) => [
      `(${1_781_431_200 + second}.000000) can0 09F20001#00C05DFFFF7FFFFF`,
      ...errors.includes(second)
        ? [`(${1_781_431_200 + second}.500000) can0 20000008#0000000000000000`]
        : [],
    ]);
    const folder = ownFolder({ "trip.log": `${lines.join("\n")}\n` });
    return (await inside(survey, ["trip.log"], folder)).out;
  };
  expect(await surveyed([100, 300, 500, 700, 900, 1100])).not.toContain("Frames are destroyed");
  expect(await surveyed([400, 410, 411, 412, 413, 414])).toContain("Frames are destroyed");
});

test("a bus that was dead for a while is told with how long", async () => {
  const recording = new SpokenRecording().engine(0, 20, { speed: 700 })
    .engine(140, 160, { speed: 700 });
  const once = ownFolder({ "trip.log": recording.text });
  const { out } = await inside(survey, ["trip.log"], once);
  expect(out.replaceAll(/\s+/g, " ")).toMatch(/1 gap of more than a second \(2 min\)/);
  const { out: json } = await inside(survey, ["trip.log", "--json"], once);
  const { buses } = surveyReportSchema.parse(JSON.parse(json));
  expect(buses).toMatchObject([{ gaps: 1 }]);
});

test("of two buses the one that went off is told first, and what to measure there alone", async () => {
  const seconds = Array.from({ length: 20 }, (_, second) => 1_781_431_200 + second);
  const lines = seconds.flatMap((second) => [
    `(${second}.000000) can0 09F20001#00C05DFFFF7FFFFF`,
    `(${second}.000000) can1 09F20001#01C05DFFFF7FFFFF`,
  ]);
  // As the kernel reports that the controller has gone off the bus.
  lines.push(`(${seconds[19]}.500000) can1 20000040#0000000000000000`);
  const folder = ownFolder({ "trip.log": `${lines.join("\n")}\n` });
  const { out } = await inside(survey, ["trip.log"], folder);
  expect(out).toContain("The bus can1 itself is in trouble");
  expect(out).not.toContain("The bus can0 itself");
  expect(out.match(/The adapter has fallen silent because of errors/g)).toHaveLength(1);
});
