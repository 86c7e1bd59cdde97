import { describe, expect, test } from "vitest";
import type { Rule } from "../../src/alarms/rules/rule.ts";
import { SECOND } from "../../src/ground/time.ts";
import { rulesOf } from "../support/hand-made-boat.ts";
import { PACK_NAMES, packText } from "../support/pack-rehearsal.ts";

const MIN = 60;
const HOUR = 3600;

/** Tag, on-delay and off-delay in seconds, deadband (empty: the test has none), priority. */
type Manner = readonly [string, number, number, string, Rule["priority"]];

const OIL: readonly Manner[] = [
  ["oil-pressure-low", 3, 10, "2 psi", "alarm"],
  ["oil-pressure-below-usual", 5 * MIN, 10 * MIN, "5 %", "caution"],
  ["oil-pressure-switch", 2, 10, "", "alarm"],
  ["coolant-hot", 15, 60, "3 K", "warning"],
  ["coolant-too-hot", 5, 60, "3 K", "alarm"],
  ["coolant-rising", 15, 60, "2 K", "warning"],
  ["engine-over-rated-speed", 5, 10, "2 %", "warning"],
  ["engine-over-speed", 1, 10, "2 %", "alarm"],
  ["engine-not-heard", 5, 10, "", "warning"],
];

/**
 * Delays, deadbands and priorities as the trade has them (common practice, makers' manuals, and
 * judgement, as each pack says beside its numbers), copied by hand from a technician's table and not
 * from the packs. Where a pack departs from it, rules/README.md says why.
 */
const MANNERS: Readonly<Record<string, readonly Manner[]>> = {
  "engine-diesel": OIL,
  "engine-petrol": [
    ...OIL,
    ["raw-water-coolant-hot", 15, 60, "3 K", "warning"],
    ["raw-water-coolant-too-hot", 5, 60, "3 K", "alarm"],
  ],
  "generator": [
    ["generator-oil-pressure-low", 3, 10, "2 psi", "alarm"],
    ["generator-oil-pressure-switch", 2, 10, "", "alarm"],
    ["generator-coolant-hot", 15, 60, "3 K", "warning"],
    ["generator-coolant-too-hot", 5, 60, "3 K", "alarm"],
    ["generator-exhaust-too-hot", 5, 60, "5 K", "alarm"],
    ["generator-over-speed", 1, 10, "2 %", "alarm"],
  ],
  "exhaust": [
    ["exhaust-hot", 10, 60, "5 K", "warning"],
    ["exhaust-too-hot", 5, 60, "5 K", "alarm"],
    ["shaft-seal-hot", 30, 5 * MIN, "5 K", "warning"],
    ["shaft-seal-too-hot", 30, 5 * MIN, "5 K", "alarm"],
    ["engine-room-hot", 60, 5 * MIN, "5 K", "warning"],
    ["engine-room-too-hot", 10, 5 * MIN, "5 K", "alarm"],
  ],
  "gearbox": [
    ["gearbox-oil-hot", 15, 60, "3 K", "warning"],
    ["gearbox-oil-too-hot", 15, 60, "3 K", "alarm"],
    ["gearbox-oil-pressure-switch", 5, 10, "", "alarm"],
  ],
  "twins": [
    ["twins-coolant-apart", 5 * MIN, 10 * MIN, "20 %", "caution"],
    ["twins-oil-apart", 5 * MIN, 10 * MIN, "20 %", "caution"],
    ["twins-fuel-apart", 5 * MIN, 10 * MIN, "20 %", "caution"],
    ["twins-volts-apart", 5 * MIN, 10 * MIN, "20 %", "caution"],
  ],
  "charging": [
    ["not-charging", 120, 60, "0.2 V", "warning"],
    ["battery-discharges-under-way", 10 * MIN, 2 * MIN, "0.1 V", "warning"],
    ["starts-weaker-than-usual", 0, 0, "", "caution"],
  ],
  "battery-lead": [
    ...ofLead("battery-low-at-rest", ["flooded", "agm"], 30 * MIN, 30 * MIN, "0.1 V", "warning"),
    ...ofLead("battery-low", ["flooded", "agm", "gel"], 5 * MIN, 10 * MIN, "0.3 V", "alarm"),
    ...ofLead("battery-empty", ["flooded", "agm", "gel"], 60, 10 * MIN, "0.3 V", "alarm"),
    ["start-battery-low", HOUR, HOUR, "0.1 V", "warning"],
    ["start-battery-too-low", HOUR, HOUR, "0.1 V", "alarm"],
    ...ofLead("overcharge", ["flooded", "agm", "gel"], 60, 60, "0.2 V", "alarm"),
    ...ofLead("over-voltage", ["flooded", "agm", "gel"], 3, 30, "0.3 V", "alarm"),
    ...ofLead("battery-hot", ["flooded", "agm", "gel"], 60, 5 * MIN, "3 K", "warning"),
    // An alarm in the table.
    ...ofLead("battery-too-hot", ["flooded", "agm", "gel"], 60, 5 * MIN, "3 K", "warning"),
  ],
  "battery-lifepo4": [
    ["lithium-charge-low", 10 * MIN, 10 * MIN, "3 %", "warning"],
    ["lithium-charge-too-low", 5 * MIN, 10 * MIN, "3 %", "alarm"],
    ["lithium-low-at-rest", 30 * MIN, 10 * MIN, "0.2 V", "warning"],
    ["lithium-voltage-low", 60, 10 * MIN, "0.2 V", "alarm"],
    ["lithium-charged-cold", 60, 5 * MIN, "2 K", "alarm"],
    ["lithium-overcharge", 60, 60, "0.2 V", "alarm"],
    ["lithium-over-voltage", 3, 30, "0.3 V", "alarm"],
    // After 3 s in the table.
    ["battery-disconnected-while-charging", 0, 60, "", "alarm"],
    ["lithium-hot", 60, 5 * MIN, "3 K", "warning"],
    ["lithium-too-hot", 60, 5 * MIN, "3 K", "alarm"],
  ],
  "charger-and-shore": [
    ["charger-in-fault", 60, 60, "", "warning"],
    ["charger-does-not-hold", 60 * MIN, 15 * MIN, "0.2 V", "warning"],
    // 10 % in two hours, or 13.1 V, in the table.
    ["charge-falls-on-shore-power", 5 * MIN, 15 * MIN, "1 %", "warning"],
    ["shore-power-probably-lost", 10 * MIN, 5 * MIN, "", "warning"],
    ["shore-power-lost", 10 * MIN, 5 * MIN, "10 V", "warning"],
  ],
  "bilge": [
    ["high-water", 5, 60, "", "emergency-alarm"],
    ["high-water-under-way", 15, 60, "", "emergency-alarm"],
    ["pump-runs-long", 0, 60, "", "warning"],
    ["pump-runs-too-long", 0, 60, "", "alarm"],
    ["pump-starts-often", 0, 2 * HOUR, "", "warning"],
    ["pump-starts-too-often", 0, 2 * HOUR, "", "alarm"],
    ["pump-starts-more-than-usual", 0, 2 * HOUR, "", "warning"],
    ["pump-never-ran", 0, 0, "", "caution"],
    ["pump-draws-nothing", 5, 5, "", "warning"],
  ],
  "detectors": [
    ["petrol-vapour", 2, 60, "", "emergency-alarm"],
    ["gas", 2, 60, "", "emergency-alarm"],
    ["carbon-monoxide", 2, 60, "", "emergency-alarm"],
    ["detector-in-fault", 60, 60, "", "alarm"],
  ],
  "tanks": [
    ["holding-tank-filling", 10 * MIN, 30 * MIN, "5 %", "caution"],
    ["holding-tank-full", 10 * MIN, 30 * MIN, "5 %", "warning"],
    ["fuel-low", 10 * MIN, 30 * MIN, "5 %", "caution"],
    ["fuel-very-low", 10 * MIN, 30 * MIN, "5 %", "warning"],
    ["petrol-low", 10 * MIN, 30 * MIN, "5 %", "caution"],
    ["petrol-very-low", 10 * MIN, 30 * MIN, "5 %", "warning"],
    ["fuel-falling", 0, 6 * HOUR, "", "warning"],
    ["petrol-falling", 0, 6 * HOUR, "", "warning"],
  ],
  "mooring": [["moved", 120, 10 * MIN, "10 m", "alarm"]],
  "cabin": [
    ["cabin-cold", 30 * MIN, HOUR, "1 K", "warning"],
    ["cabin-freezing", 30 * MIN, HOUR, "1 K", "alarm"],
    ["engine-room-cold", 30 * MIN, HOUR, "1 K", "warning"],
    ["engine-room-freezing", 30 * MIN, HOUR, "1 K", "alarm"],
  ],
  "bus": [
    ["bus-dead", 60, 60, "", "alarm"],
    ["bus-dead-with-somebody-aboard", 60, 60, "", "warning"],
    ["watched-device-not-heard", 5 * MIN, 60, "", "warning"],
    ["bus-busy", 60, 5 * MIN, "10 %", "caution"],
    ["bus-errors", 30, 5 * MIN, "10 %", "warning"],
    ["bus-off", 0, 5 * MIN, "", "warning"],
    ["network-supply-low", 30, 60, "0.3 V", "caution"],
    ["network-supply-too-low", 30, 60, "0.3 V", "warning"],
  ],
  "computer": [
    ["clock-unset", 15 * MIN, 5 * MIN, "", "caution"],
    ["disk-almost-full", 10 * MIN, 5 * MIN, "2 %", "caution"],
    ["state-folder-failing", 5 * MIN, 5 * MIN, "", "warning"],
    ["broker-away", 15 * MIN, 5 * MIN, "", "caution"],
  ],
};

/** The same of a battery of each chemistry, whose rules have tags of their own. */
function ofLead(
  tag: string,
  chemistries: readonly string[],
  ...[onDelay, offDelay, deadband, priority]: [number, number, string, Rule["priority"]]
): Manner[] {
  return chemistries.map((one) => [`${tag}-${one}`, onDelay, offDelay, deadband, priority]);
}

function mannerOf(rule: Rule): Manner {
  const { tag, onDelay, offDelay, priority } = rule;
  return [tag, onDelay / SECOND, offDelay / SECOND, deadbandOf(rule), priority];
}

/** As it is written; volts are for 12 V. */
function deadbandOf({ test }: Rule): string {
  if (!("deadband" in test)) return "";
  const { deadband } = test;
  if (typeof deadband === "number") return `${deadband} m`;
  if (deadband.kind === "share") return deadband.percent === 0 ? "" : `${deadband.percent} %`;
  return deadband.amount.value === 0 ? "" : deadband.amount.written;
}

describe("the delays, deadbands and priorities of a pack are the trade's", () => {
  test.each(Object.entries(MANNERS))("%s", (pack, manners) => {
    const rules = new Map(rulesOf(packText(pack)).map((rule) => [rule.tag, mannerOf(rule)]));
    expect(manners.map(([tag]) => rules.get(tag))).toEqual(manners);
  });

  test("in all packs but that of the engine's own lamps, of which the trade has no numbers", () => {
    const without = PACK_NAMES.filter((name) => !Object.hasOwn(MANNERS, name));
    expect(without).toEqual(["trouble-codes"]);
  });
});
