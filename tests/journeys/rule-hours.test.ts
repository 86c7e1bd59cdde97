import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { sternfast } from "../support/sternfast.ts";

const RULES = `alarms:
  - tag: oil-low-by-day
    title: Oil low
    each: engine
    low: { signal: oil-pressure, setpoint: 10 psi }
    watch-while: { time-of-day: { from: 12:01, to: 12:02 } }
    priority: alarm
`;

test("a rule that asks for the time of the day keeps to the boat's clock, to the very minute", async () => {
  const folder = ownFolder({
    // It begins at 10:00 UTC, when it is noon in Berlin.
    "trip.log": new SpokenRecording().engine(0, 130, { speed: 2500, oil: 5 }).text,
    "boat.yaml": "time-zone: Europe/Berlin\n",
    "rules.yaml": RULES,
  });
  const typed = ["trip.log", "--boat", "boat.yaml", "--rules", "rules.yaml", "--json"];
  const rehearsed = await sternfast(["rehearse", ...typed, "--answer", "never"], { folder });
  const run = await sternfast(["run", ...typed], { folder });
  expect(run.out).toBe(rehearsed.out);
  const changes = run.out.trim().split("\n").map((line) => JSON.parse(line));
  expect(changes.map(({ time, to }: Record<string, string>) => `${time} ${to}`)).toEqual([
    "2026-06-14T10:01:00.000000Z unacknowledged",
    "2026-06-14T10:02:00.000000Z returned-unacknowledged",
  ]);
});
