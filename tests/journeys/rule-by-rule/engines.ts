import type { Said } from "../../support/hand-made-boat.ts";
import type { RuleProof } from "../../support/rule-proof.ts";

const PSI = 6894.757293168362;

type Words = Readonly<Record<string, string>>;

/** An engine that runs warm at 1,500 rpm. Rated at 2,600 rpm; it charges the house battery. */
function engine(words: Words) {
  const at = (quantity: string) => `engine/port/${quantity}`;
  const boat: RuleProof["boat"] = [
    {
      ...{ group: "engine", name: "port", words, numbers: { "rated-speed": 2600 } },
      relations: { battery: "house" },
    },
    { group: "battery", name: "house", numbers: { nominal: 12 } },
  ];
  const running: Said = { [at("condition")]: "running", [at("speed")]: 1500 };
  const stopped: Said = { [at("condition")]: "stopped" };
  const proof = (
    tag: string,
    [quantity, well, wrong]: readonly [string, number | string, number | string],
    after: number,
    more: Partial<RuleProof> = {},
  ): RuleProof => ({
    ...{ tag, subject: "port", boat, after },
    about: running,
    well: { [at(quantity)]: well },
    wrong: { [at(quantity)]: wrong },
    ...more,
  });
  return { at, proof, running, stopped };
}

/** Rules that both engine packs have, with their own figures. */
function alike(
  words: Words,
  oil: readonly [speed: number, psi: number],
  rising: number,
): RuleProof[] {
  const { at, proof, running, stopped } = engine(words);
  const [speed, psi] = oil;
  return [
    proof("oil-pressure-low", ["oil-pressure", psi * PSI + 1, psi * PSI - 100], 3, {
      about: { ...running, [at("speed")]: speed },
      unless: stopped,
    }),
    proof("oil-pressure-below-usual", ["oil-pressure", 400_000, 298_000], 300, {
      about: { ...running, [at("coolant-temperature")]: 80 },
      unless: { [at("coolant-temperature")]: 40 },
    }),
    proof("oil-pressure-switch", ["status/low-oil-pressure", 0, 1], 2, { unless: stopped }),
    proof("coolant-rising", ["coolant-temperature", rising, rising + 6.1], 15, { unless: stopped }),
    proof("engine-over-rated-speed", ["speed", 2678, 2679], 5),
    proof("engine-over-speed", ["speed", 2808, 2809], 1),
    proof("engine-not-heard", ["speed", 1201, "not heard"], 5),
  ];
}

/** Two limits of the coolant, as everybody's: 15 s and 5 s after a minute's running. */
function coolant(words: Words, prefix: string, [warm, hot]: readonly [number, number]) {
  const { proof, stopped } = engine(words);
  const unless = stopped;
  return [
    proof(`${prefix}coolant-hot`, ["coolant-temperature", warm, warm + 0.1], 15, { unless }),
    proof(`${prefix}coolant-too-hot`, ["coolant-temperature", hot, hot + 0.1], 5, { unless }),
  ];
}

const DIESEL = { fuel: "diesel" };
const PETROL = { fuel: "petrol" };
const diesel = engine(DIESEL);
const petrol = engine(PETROL);

const BLOWER = "switch/blower/state";

function troubleCode(tag: string, bit: string, after: number): RuleProof {
  const unless = tag === "engine-maintenance" ? {} : { unless: diesel.stopped };
  return diesel.proof(tag, [`status/${bit}`, 0, 1], after, unless);
}

function heat(tag: string, quantity: string, limit: number, after: number): RuleProof {
  const watches = !tag.startsWith("engine-room");
  const unless = watches ? { unless: diesel.stopped } : {};
  return diesel.proof(tag, [`${quantity}-temperature`, limit, limit + 0.1], after, unless);
}

const GEARBOX = { boat: [{ group: "gearbox", name: "port" }] };
const IN_GEAR = { "gearbox/port/gear": "forward" };
const OUT_OF_GEAR = { unless: { "gearbox/port/gear": "neutral" } };

function gearbox(tag: string, quantity: string, well: number, wrong: number, after: number) {
  return {
    ...{ tag, subject: "port", about: IN_GEAR, after, ...GEARBOX },
    well: { [`gearbox/port/${quantity}`]: well },
    wrong: { [`gearbox/port/${quantity}`]: wrong },
    ...(tag === "gearbox-oil-level" ? {} : OUT_OF_GEAR),
  };
}

const MAIN = "generator/main";
const TURNING = { [`${MAIN}/condition`]: "running", [`${MAIN}/speed`]: 1500 };

function generator(tag: string, quantity: string, well: number, wrong: number, after: number) {
  const always = tag === "generator-over-speed";
  return {
    ...{ tag, subject: "main", about: TURNING, after },
    boat: [{ group: "generator", name: "main", numbers: { "rated-speed": 1500 } }],
    well: { [`${MAIN}/${quantity}`]: well },
    wrong: { [`${MAIN}/${quantity}`]: wrong },
    ...(always ? {} : { unless: { [`${MAIN}/condition`]: "stopped" } }),
  };
}

function twins(tag: string, quantity: string, usual: number, apart: number): RuleProof {
  const each = (value: number, name: string) => ({ [`engine/port/${name}`]: value });
  const starboard = `engine/starboard/${quantity}`;
  return {
    ...{ tag, subject: "port-starboard", after: 300 },
    boat: [{ group: "engine", name: "port" }, { group: "engine", name: "starboard" }],
    about: { ...each(2000, "speed"), ...each(usual, quantity), "engine/starboard/speed": 2000 },
    well: { [starboard]: usual },
    wrong: { [starboard]: apart },
    unless: { "engine/starboard/speed": 1400 },
  };
}

/** By pack. */
export const ENGINE_PROOFS: Readonly<Record<string, readonly RuleProof[]>> = {
  "engine-diesel": [
    ...alike(DIESEL, [1200, 15], 80),
    ...coolant(DIESEL, "", [95, 100]),
    diesel.proof("water-in-fuel", ["status/water-in-fuel", 0, 1], 10, { unless: diesel.stopped }),
  ],
  "engine-petrol": [
    ...alike(PETROL, [2000, 18], 75),
    ...coolant({ ...PETROL, cooling: "closed" }, "", [88, 95]),
    ...coolant({ ...PETROL, cooling: "raw-water" }, "raw-water-", [74, 82]),
    petrol.proof("start-without-blower", ["condition", "stopped", "cranking"], 0, {
      about: { [BLOWER]: 0 },
      unless: { [BLOWER]: 1 },
    }),
  ],
  "exhaust": [
    heat("exhaust-hot", "exhaust", 60, 10),
    heat("exhaust-too-hot", "exhaust", 71, 5),
    heat("shaft-seal-hot", "shaft-seal", 55, 30),
    heat("shaft-seal-too-hot", "shaft-seal", 65, 30),
    heat("engine-room-hot", "engine-room", 65, 60),
    heat("engine-room-too-hot", "engine-room", 80, 10),
  ],
  "gearbox": [
    gearbox("gearbox-oil-hot", "oil-temperature", 95, 95.1, 15),
    gearbox("gearbox-oil-too-hot", "oil-temperature", 105, 105.1, 15),
    gearbox("gearbox-oil-pressure-switch", "status/low-oil-pressure", 0, 1, 5),
    gearbox("gearbox-oil-level", "status/low-oil-level", 0, 1, 60),
  ],
  "generator": [
    generator("generator-oil-pressure-low", "oil-pressure", 20 * PSI + 1, 20 * PSI - 100, 3),
    generator("generator-oil-pressure-switch", "status/low-oil-pressure", 0, 1, 2),
    generator("generator-coolant-hot", "coolant-temperature", 95, 95.1, 15),
    generator("generator-coolant-too-hot", "coolant-temperature", 100, 100.1, 5),
    generator("generator-exhaust-too-hot", "exhaust-temperature", 71, 71.1, 5),
    generator("generator-over-speed", "speed", 1620, 1621, 1),
  ],
  "trouble-codes": [
    troubleCode("engine-check", "check-engine", 5),
    troubleCode("engine-over-temperature", "over-temperature", 5),
    troubleCode("engine-low-oil-level", "low-oil-level", 60),
    troubleCode("engine-low-coolant-level", "low-coolant-level", 30),
    troubleCode("engine-water-flow", "water-flow", 5),
    troubleCode("engine-low-fuel-pressure", "low-fuel-pressure", 10),
    troubleCode("engine-power-reduced", "power-reduction", 5),
    troubleCode("engine-maintenance", "maintenance-needed", 60),
  ],
  "twins": [
    twins("twins-coolant-apart", "coolant-temperature", 80, 88.1),
    twins("twins-oil-apart", "oil-pressure", 40 * PSI, 24.9 * PSI),
    twins("twins-fuel-apart", "fuel-rate", 50, 39.9),
    twins("twins-volts-apart", "alternator-voltage", 14.2, 13.59),
  ],
  "charging": [
    diesel.proof("not-charging", ["speed", 1500, 1500], 120, {
      well: { "battery/house/voltage": 12.9 },
      wrong: { "battery/house/voltage": 12.89 },
      unless: { "engine/port/speed": 1200 },
    }),
    diesel.proof("battery-discharges-under-way", ["speed", 1500, 1500], 600, {
      about: {
        ...diesel.running,
        "battery/house/current": -5,
        "battery/house/state-of-charge": 94,
      },
      well: { "battery/house/voltage": 13.2 },
      wrong: { "battery/house/voltage": 13.19 },
      unless: { "battery/house/state-of-charge": 95 },
    }),
    diesel.proof("charge-indicator", ["status/charge-indicator", 0, 1], 30, {
      unless: { "engine/port/speed": 1200 },
    }),
  ],
};
