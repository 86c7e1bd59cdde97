import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { z } from "zod";
import { allTrips } from "../../src/commands/rehearsing/all-trips.ts";
import { boatFrom, packsFor } from "../support/pack-rehearsal.ts";
import { ROOT, sternfast } from "../support/sternfast.ts";

const EXAMPLE = `${ROOT}/examples/sea-trials`;
const SETTINGS = ["--settings", `${EXAMPLE}/sternfast.yaml`];

/** Faults that are over soon, so that trips are short. */
const TWENTY = `
trips: 20
seed: 100
with-fault: 75 %
faults:
  oil-lost:
    told-by: [oil-pressure-low, oil-pressure-switch]
    within: 60 s
    may-ring: [twins-oil-apart, engine-check]
  alternator-unregulated: { told-by: [twins-volts-apart], may-ring: [over-voltage-agm, overcharge-agm] }
  device-gone: { told-by: [engine-not-heard], may-ring: [not-watched] }
  address-changes: {}
`;

const lineSchema = z.looseObject({
  trips: z.number().optional(),
  hours: z.number().optional(),
  rule: z.string().optional(),
  fault: z.string().nullish(),
  of: z.number().optional(),
  found: z.number().optional(),
  "worst-delay": z.number().nullish(),
});

let folder: string;

beforeAll(async () => {
  folder = await Deno.makeTempDir();
});
afterAll(() => Deno.remove(folder, { recursive: true }));

async function trialsFile(text: string): Promise<string> {
  const place = `${folder}/trials.yaml`;
  await Deno.writeTextFile(place, text);
  return place;
}

describe("sea trials", () => {
  test(
    "of twenty trips find lost oil each time, within its minute",
    { timeout: 600_000 },
    async () => {
      const typed = ["rehearse", "--trials", await trialsFile(TWENTY), ...SETTINGS, "--json"];
      const { code, out } = await sternfast(typed, { folder });
      expect(code).toBe(0);
      const lines = out.trim().split("\n").map((line) => lineSchema.parse(JSON.parse(line)));
      expect(lines[0].trips).toBe(20);
      expect(lines[0].hours).toBeGreaterThan(4);
      const faults = lines.filter(({ fault }) => typeof fault === "string");
      expect(faults.reduce((sum, { of = 0 }) => sum + of, 0)).toBeLessThan(20);
      const oil = faults.find(({ fault }) => fault === "oil-lost");
      expect(oil?.of).toBeGreaterThan(0);
      expect(oil?.found).toBe(oil?.of);
      expect(oil?.["worst-delay"]).toBeLessThan(60);
      expect(lines.find(({ rule }) => rule === "oil-pressure-low")).toMatchObject({ false: 0 });
    },
  );

  test("are the same on one core and on two", { timeout: 300_000 }, async () => {
    const order = {
      options: { faults: ["oil-lost"] as const },
      boat: boatFrom(
        "engines: { port: { instance: 0, fuel: diesel }, starboard: { instance: 1, fuel: diesel } }",
      ),
      rules: packsFor("diesel"),
      wait: null,
    };
    const stopped = new AbortController().signal;
    const made = async (threads: number) => {
      const trips = await Array.fromAsync(allTrips(order, [1, 2], { threads, stopped }));
      return trips.sort((a, b) => a.seed - b.seed);
    };
    const alone = await made(1);
    expect(alone.flatMap(({ result }) => result.rang).length).toBeGreaterThan(0);
    expect(await made(2)).toEqual(alone);
  });

  test.each([
    [
      "a tag that no rule has",
      "trips: 2\nfaults: { oil-lost: { told-by: [oil-presure-low] } }",
      'did you mean "oil-pressure-low"?',
    ],
    [
      "a fault that the simulator does not know",
      "trips: 2\nfaults: { oil-gone: {} }",
      'found "oil-gone", which the simulator does not know',
    ],
    ["no trips", "faults: { oil-lost: {} }", 'needs "trips"'],
  ])("end with 2 for %s", async (_, text, words) => {
    const typed = ["rehearse", "--trials", await trialsFile(text), ...SETTINGS];
    const { code, out, error } = await sternfast(typed, { folder });
    expect(code).toBe(2);
    expect(out).toBe("");
    expect(error).toContain(words);
    expect(error).toMatch(/no trip was made/i);
  });

  test("end with 2 beside recordings: they make trips of their own", async () => {
    const typed = ["rehearse", "trip.log", "--trials", await trialsFile(TWENTY), ...SETTINGS];
    const { code, error } = await sternfast(typed, { folder });
    expect(code).toBe(2);
    expect(error).toContain("leave the recordings out");
  });

  test.each(["--report=page.html", "--health", "--why=oil-pressure-low"])(
    "end with 2 beside %s, which is about recordings",
    async (option) => {
      const typed = ["rehearse", "--trials", await trialsFile(TWENTY), option, ...SETTINGS];
      const { code, error } = await sternfast(typed, { folder });
      expect(code).toBe(2);
      expect(error).toContain(`leave ${option.split("=")[0]} out`);
    },
  );

  test("are a kind of file that check knows", async () => {
    const { code, out } = await sternfast(["check", EXAMPLE], { folder });
    expect(code).toBe(0);
    expect(out).toContain("trials.yaml: sea trials without a mistake.");
  });
});
