import { expect } from "vitest";
import { DAY, type Micros, MINUTE, parseIsoTime } from "../../src/ground/time.ts";
import { ownFolder } from "./own-folder.ts";
import { laySeason } from "./season.ts";
import { ROOT, sternfast } from "./sternfast.ts";

const SETTINGS = ["--settings", `${ROOT}/examples/sea-trials/sternfast.yaml`, "--health"];

interface Raising {
  readonly name: string;
  readonly priority: string;
  readonly at: Micros;
}

/**
 * Rehearses a season of so many trips and holds every figure of its health against what is counted
 * here from the changes that a program is given, without any of our own sums.
 */
export async function holdSeason(trips: number): Promise<void> {
  const folder = ownFolder({});
  const lasting = laySeason(folder, trips);
  const known = await sternfast([
    "rehearse",
    "trip-001.log.gz",
    "--write-expectations",
    ...SETTINGS,
  ], {
    folder,
  });
  expect(known.code).toBe(0);
  const { code, out } = await sternfast(["rehearse", ".", ...SETTINGS], { folder });
  expect(code).toBe(0);
  const { out: data } = await sternfast(["rehearse", ".", "--json", ...SETTINGS], { folder });
  const raisings = raisingsIn(data);
  const found = (measure: string) =>
    new RegExp(`^  ${measure} {2,}(.*?)(?: {2,}|$)`, "m").exec(out)?.[1];

  expect(raisings.length).toBeGreaterThan(trips / 2);
  expect(found("alarms in all")).toBe(String(raisings.length));
  const daily = raisings.length * DAY / lasting;
  expect(Number(found("alarms a day"))).toBeCloseTo(daily, daily < 10 ? 0.5 : -0.5);
  expect(found("most in ten minutes")).toBe(String(mostInTenMinutes(raisings)));
  for (const priority of new Set(raisings.map((one) => one.priority))) {
    const share = 100 * raisings.filter((one) => one.priority === priority).length /
      raisings.length;
    const said = new RegExp(`([\\d.]+) % ${priority}`).exec(found("priorities") ?? "")?.[1];
    expect(Math.abs(Number(said) - share), priority).toBeLessThan(0.51);
  }
  const counts = Map.groupBy(raisings, ({ name }) => name);
  const most = [...counts].map(([name, { length }]): [string, number] => [name, length])
    .sort(([a, one], [b, other]) => other - one || (a < b ? -1 : 1)).slice(0, 10);
  const listed = out.slice(out.indexOf("Most frequent")).matchAll(/^ {2}(\S+, \S+) +(\d+) {2}/gm);
  expect([...listed].map(([, name, count]) => [name, Number(count)])).toEqual(most);
  expect(found("false alarms a month")).toMatch(/^0 \(0 in /);
  expect(out).toContain("1 at most, an owner's own target");
}

function raisingsIn(data: string): Raising[] {
  const present = ["unacknowledged", "acknowledged"];
  return data.trimEnd().split("\n").map((line) => JSON.parse(line))
    .filter(({ from, to }) => present.includes(to) && !present.includes(from))
    .map(({ tag, subject, priority, time }) => ({
      name: `${tag}, ${subject}`,
      priority,
      at: parseIsoTime(time) ?? NaN,
    }));
}

/** By tens of minutes of each day's trip, which begins at ten. */
function mostInTenMinutes(raisings: readonly Raising[]): number {
  const tens = Map.groupBy(raisings, ({ at }) => Math.floor(at / (10 * MINUTE)));
  return Math.max(...[...tens.values()].map(({ length }) => length));
}
