import { gzipSync } from "node:zlib";
import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { start, sternfast } from "../support/sternfast.ts";

const recording = new SpokenRecording()
  .engine(0, 0.2, { speed: 0, oil: 0 })
  .say(0.25, 127508, { instance: 0, voltage: 12.6, current: null, temperature: null })
  .say(20, 127508, { instance: 0, voltage: 12.61, current: null, temperature: null });

test("every value that was received is a line of CSV, in time order", async () => {
  const folder = ownFolder({ "trip.log.gz": gzipSync(recording.text) });
  const { out, error, code } = await sternfast(["export", "trip.log.gz"], { folder });
  const lines = out.split("\r\n");
  expect(lines.slice(0, 2)).toEqual([
    "time,signal,value,unit,quality",
    "2026-06-14T10:00:00.001000Z,engine/0/speed,0,1/min,good",
  ]);
  expect(lines).toContain("2026-06-14T10:00:00.001000Z,engine/0/oil-pressure,0,Pa,good");
  expect(lines).toContain("2026-06-14T10:00:00.250000Z,battery/0/current,,A,bad");
  expect(lines.filter((line) => line.includes("/speed,")).length).toBe(2);
  const times = lines.slice(1, -1).map((line) => line.slice(0, line.indexOf(",")));
  expect(times).toEqual(times.toSorted());
  expect(lines.at(-1)).toBe("");
  expect(out).not.toMatch(/[^\r]\n/);
  expect([code, error]).toEqual([0, ""]);
});

test("what is worked out aboard is among them only when asked for", async () => {
  const folder = ownFolder({ "trip.log": recording.text });
  const { out } = await sternfast(["export", "trip.log", "--derived"], { folder });
  const conditions = out.split("\r\n").filter((line) => line.includes("condition"));
  expect(conditions).toEqual([
    "2026-06-14T10:00:00.001000Z,boat/condition,left,,good",
    "2026-06-14T10:00:00.001000Z,engine/0/condition,stopped,,good",
    "2026-06-14T10:00:01.101000Z,engine/0/condition,,,bad",
    "2026-06-14T10:00:03.101000Z,engine/0/condition,stopped-presumed,,good",
  ]);
});

test("a later form of lines is refused as such, and a misspelled one with the right spelling", async () => {
  const folder = ownFolder({ "trip.log": recording.text });
  const later = await sternfast(["export", "trip.log", "--format", "senml"], { folder });
  expect(later).toEqual({
    code: 2,
    out: "",
    error: "--format: senml is not in this version; csv is.\n",
  });
  const misspelled = await sternfast(["export", "trip.log", "--format", "cvs"], { folder });
  expect(misspelled.error).toBe('--format: found "cvs", expected csv; did you mean csv?\n');
});

test("what befalls a live input is told", async () => {
  const exporting = await start(["export", "slcan:/dev/no-such-adapter"]);
  const told = await exporting.until(/tried again/);
  expect(told).toContain("there is no device /dev/no-such-adapter");
  exporting.interrupt();
  await exporting.finished();
});
