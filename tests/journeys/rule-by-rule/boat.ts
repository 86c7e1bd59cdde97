import type { Said } from "../../support/hand-made-boat.ts";
import type { RuleProof } from "../../support/rule-proof.ts";

/** One signal of one subject, from well to wrong. */
function proof(
  tag: string,
  name: string,
  [well, wrong]: readonly [number | string, number | string],
  after: number,
  more: Partial<RuleProof> & { words?: Readonly<Record<string, string>> } = {},
): RuleProof {
  const [group, subject] = name.split("/");
  const isBoats = group === "computer" || group === "boat";
  const { words = {}, ...rest } = more;
  return {
    ...{ tag, subject: isBoats ? "boat" : subject, after, about: {} },
    boat: isBoats ? [] : [{ group, name: subject, words }],
    well: { [name]: well },
    wrong: { [name]: wrong },
    ...rest,
  };
}

const LEFT: Said = { "boat/condition": "left", "boat/under-way": 0 };
const ABOARD: Said = { ...LEFT, "boat/condition": "aboard" };

function detector(tag: string, senses = tag): RuleProof {
  return proof(tag, "detector/saloon/alarm", ["off", "on"], 2, { words: { senses } });
}

function level(tag: string, fluid: string, well: number, wrong: number): RuleProof {
  return proof(tag, "tank/one/level", [well, wrong], 600, { words: { fluid } });
}

function falling(tag: string, fluid: string): RuleProof {
  return proof(tag, "tank/one/level", [90, 79.9], 0, {
    words: { fluid },
    about: LEFT,
    unless: ABOARD,
  });
}

function frost(tag: string, name: string, limit: number): RuleProof {
  const about = { "boat/winterised": 0 };
  const unless = { "boat/winterised": 1 };
  return proof(tag, name, [limit, limit - 0.1], 1800, { about, unless });
}

const NETWORK = "network/main";
const powered = { powered: "always" };

/** By pack. */
export const BOAT_PROOFS: Readonly<Record<string, readonly RuleProof[]>> = {
  "bilge": [
    proof("high-water", "bilge/aft/float", ["off", "on"], 5, {
      about: { "boat/under-way": 0 },
      unless: { "boat/under-way": 1 },
    }),
    proof("high-water-under-way", "bilge/aft/float", ["off", "on"], 15, {
      about: { "boat/under-way": 1 },
      unless: { "boat/under-way": 0 },
    }),
    proof("pump-runs-long", "bilge/aft/pump", ["off", "on"], 180),
    proof("pump-runs-too-long", "bilge/aft/pump", ["off", "on"], 600),
    proof("pump-draws-nothing", "bilge/aft/pump", ["off", "on"], 5, {
      about: { "bilge/aft/pump-draws": "off" },
      unless: { "bilge/aft/pump-draws": "not available" },
    }),
  ],
  "bus": [
    proof("bus-busy", `${NETWORK}/load`, [70, 70.1], 60),
    proof("bus-errors", `${NETWORK}/error-frames`, [10, 11], 30),
    proof("bus-off", `${NETWORK}/bus-off`, [0, 1], 0),
    proof("bus-dead", `${NETWORK}/frames`, [1, 0], 60, {
      words: powered,
      about: LEFT,
      unless: ABOARD,
    }),
    proof("bus-dead-with-somebody-aboard", `${NETWORK}/frames`, [1, 0], 60, {
      words: powered,
      about: ABOARD,
      unless: LEFT,
    }),
    proof("network-supply-low", `${NETWORK}/voltage`, [11, 10.99], 30),
    proof("network-supply-too-low", `${NETWORK}/voltage`, [10, 9.99], 30),
    proof("watched-device-not-heard", "watched-device/mast-receiver/not-heard", [0, 1], 300),
    proof("clock-off-one-way", "computer/clock-offset", [60, 61], 900),
    proof("clock-off-other-way", "computer/clock-offset", [-60, -61], 900),
  ],
  "cabin": [
    frost("cabin-cold", "cabin/saloon/temperature", 3),
    frost("cabin-freezing", "cabin/saloon/temperature", 1),
    frost("engine-room-cold", "engine/port/engine-room-temperature", 3),
    frost("engine-room-freezing", "engine/port/engine-room-temperature", 1),
  ],
  "computer": [
    proof("disk-almost-full", "computer/disk-free", [10, 9.9], 600),
    proof("state-folder-failing", "computer/state-folder", ["written", "failing"], 300),
    proof("broker-away", "computer/broker-link", ["connected", "away"], 900),
    proof("clock-unset", "computer/clock", ["set", "unset"], 900),
  ],
  "detectors": [
    detector("petrol-vapour"),
    detector("gas"),
    detector("hydrogen"),
    detector("carbon-monoxide"),
    detector("smoke"),
    detector("heat"),
    proof("detector-in-fault", "detector/saloon/fault-contact", ["off", "on"], 60),
  ],
  "mooring": [
    proof("engines-run-with-nobody-aboard", "boat/engines-running", [0, 1], 60, {
      about: { "boat/condition": "left", "boat/under-way": 1 },
      unless: ABOARD,
    }),
  ],
  "tanks": [
    level("fuel-low", "fuel", 33, 32.9),
    level("fuel-very-low", "fuel", 15, 14.9),
    level("petrol-low", "fuel-gasoline", 33, 32.9),
    level("petrol-very-low", "fuel-gasoline", 15, 14.9),
    level("holding-tank-filling", "black-water", 80, 80.1),
    level("holding-tank-full", "black-water", 90, 90.1),
    falling("fuel-falling", "fuel"),
    falling("petrol-falling", "fuel-gasoline"),
  ],
};
