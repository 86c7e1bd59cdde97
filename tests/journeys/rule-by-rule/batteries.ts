import type { RuleProof } from "../../support/rule-proof.ts";

const HOUR = 3600;

/** The house battery, of 12 V and 100 A.h, so that C/50 are 2 A. */
function battery(chemistry: string, name = "house") {
  const boat = [{
    ...{ group: "battery", name, words: { chemistry } },
    numbers: { nominal: 12, capacity: 100 },
  }];
  return (
    tag: string,
    [quantity, well, wrong]: readonly [string, number, number],
    after: number,
    more: Partial<RuleProof> = {},
  ): RuleProof => ({
    ...{ tag, subject: name, boat, after, about: {} },
    well: { [`battery/${name}/${quantity}`]: well },
    wrong: { [`battery/${name}/${quantity}`]: wrong },
    ...more,
  });
}

const CURRENT = "battery/house/current";

function lead(chemistry: string, overcharged: number): RuleProof[] {
  const proof = battery(chemistry);
  return [
    proof(`battery-low-${chemistry}`, ["voltage", 11.8, 11.79], 300),
    proof(`battery-empty-${chemistry}`, ["voltage", 11, 10.99], 60),
    proof(`overcharge-${chemistry}`, ["voltage", overcharged, overcharged + 0.01], 60),
    proof(`over-voltage-${chemistry}`, ["voltage", 15.8, 15.81], 3),
    proof(`battery-hot-${chemistry}`, ["temperature", 45, 45.1], 60),
    proof(`battery-too-hot-${chemistry}`, ["temperature", 50, 50.1], 60),
  ];
}

function resting(chemistry: string): RuleProof {
  return battery(chemistry)(
    `battery-low-at-rest-${chemistry}`,
    ["voltage", 12.2, 12.19],
    1800,
    { about: { [CURRENT]: -1 }, unless: { [CURRENT]: -2.1 } },
  );
}

const lithium = battery("lifepo4");
const start = battery("agm", "start");

/** By pack. */
export const BATTERY_PROOFS: Readonly<Record<string, readonly RuleProof[]>> = {
  "battery-lead": [
    ...lead("flooded", 15.2),
    ...lead("agm", 14.9),
    ...lead("gel", 14.6),
    resting("flooded"),
    resting("agm"),
    start("start-battery-low", ["voltage", 12.4, 12.39], HOUR),
    start("start-battery-too-low", ["voltage", 12.1, 12.09], HOUR),
  ],
  "battery-lifepo4": [
    lithium("lithium-charge-low", ["state-of-charge", 20, 19], 600),
    lithium("lithium-charge-too-low", ["state-of-charge", 10, 9], 300),
    lithium("lithium-low-at-rest", ["voltage", 12.8, 12.79], 1800, {
      about: { [CURRENT]: -1 },
      unless: { [CURRENT]: -2.1 },
    }),
    lithium("lithium-voltage-low", ["voltage", 12, 11.99], 60),
    lithium("lithium-charged-cold", ["temperature", 0, -0.1], 60, {
      about: { [CURRENT]: 2.1 },
      unless: { [CURRENT]: 2 },
    }),
    lithium("lithium-overcharge", ["voltage", 14.8, 14.81], 60),
    lithium("lithium-over-voltage", ["voltage", 15.8, 15.81], 3),
    lithium("battery-disconnected-while-charging", ["voltage", 14.2, 14.51], 0, {
      about: { [CURRENT]: 0 },
      unless: { [CURRENT]: 1 },
    }),
    lithium("lithium-hot", ["temperature", 45, 45.1], 60),
    lithium("lithium-too-hot", ["temperature", 55, 55.1], 60),
  ],
  "charger-and-shore": [
    charger("charger-in-fault", { about: {}, well: bulk("bulk"), wrong: bulk("fault") }, 60),
    charger("charger-does-not-hold", {
      about: { ...bulk("float"), [CURRENT]: -2 },
      well: { "battery/house/voltage": 12.9 },
      wrong: { "battery/house/voltage": 12.89 },
      unless: bulk("bulk"),
    }, HOUR),
    charger("charge-falls-on-shore-power", {
      about: { ...bulk("float"), [CURRENT]: -2 },
      well: { "battery/house/state-of-charge": 90 },
      wrong: { "battery/house/state-of-charge": 84 },
      unless: bulk("bulk"),
    }, 300),
    {
      ...{ tag: "shore-power-probably-lost", subject: "shore", after: 600 },
      boat: [{ group: "charger", name: "shore", words: { "powered-by": "shore" } }],
      about: { "boat/condition": "left", "boat/under-way": 0 },
      well: bulk("float"),
      wrong: bulk("not heard"),
      unless: { "boat/condition": "aboard" },
    },
    {
      ...{ tag: "shore-power-lost", subject: "main", after: 600 },
      boat: [{ group: "shore-power", name: "main" }],
      about: { "boat/condition": "left", "boat/under-way": 0 },
      well: { "shore-power/main/voltage": 80 },
      wrong: { "shore-power/main/voltage": 79 },
      unless: { "boat/condition": "aboard" },
    },
  ],
};

function bulk(state: string) {
  return { "charger/shore/operating-state": state };
}

function charger(
  tag: string,
  said: Pick<RuleProof, "about" | "well" | "wrong" | "unless">,
  after: number,
): RuleProof {
  return {
    ...{ tag, subject: "shore", after, ...said },
    boat: [
      { group: "charger", name: "shore", relations: { battery: "house" } },
      { group: "battery", name: "house", numbers: { nominal: 12 } },
    ],
  };
}
