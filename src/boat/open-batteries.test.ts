import { expect, test } from "vitest";
import { boatWith } from "../../tests/support/hand-made-boat.ts";
import { OpenBatteries } from "./open-batteries.ts";
import { Quality, QUALITY_WORDS, Reason } from "./quality.ts";
import { SignalTable } from "./signal-table.ts";

type Said = readonly [volts: number, amperes: number, charge: number];

/** A bank whose shunt says volts, amperes and its charge in each message; how good that charge is. */
function bank(chemistry: string, nominal = 12) {
  const table = new SignalTable();
  const signals = (["voltage", "current", "state-of-charge"] as const).map((quantity) =>
    table.intern({
      ...{ name: `battery/house/${quantity}`, group: "battery", subject: "house", quantity },
      ...{ unit: "1", decimals: 2, words: null, span: null, derived: false },
    })
  );
  const numbers = { nominal };
  const subject = { group: "battery", name: "house", words: { chemistry }, numbers };
  const batteries = new OpenBatteries(table, boatWith([subject]));
  let now = 0;
  return (...values: Said): string => {
    now += 1_500_000;
    values.forEach((value, i) => {
      const quality = Number.isNaN(value) ? Quality.bad : Quality.good;
      if (Object.is(table.values[signals[i]], value)) return;
      table.set(signals[i], value, quality, Reason.none, now);
    });
    batteries.follow(now);
    table.clearFresh();
    return QUALITY_WORDS[table.qualities[signals[2]]];
  };
}

test("a lithium bank that opens while it is charged has no good state of charge until current flows again", () => {
  const say = bank("lifepo4");
  expect(say(14.2, 120, 50)).toBe("good");
  expect(say(16.5, 0, 50)).toBe("uncertain");
  expect(say(14.2, 0.1, 50)).toBe("uncertain");
  // Each new figure of the shunt is as doubtful as the last.
  expect(say(14.2, 0, 51)).toBe("uncertain");
  expect(say(NaN, NaN, 52)).toBe("uncertain");
  expect(say(13.3, -8, 52)).toBe("good");
});

test("volts of a bank of 24 V count for half", () => {
  const say = bank("lifepo4", 24);
  say(28.2, 60, 50);
  expect(say(28.6, 0, 50)).toBe("good");
  say(28.2, 60, 50);
  expect(say(29.1, 0, 50)).toBe("uncertain");
});

type Case = readonly [what: string, chemistry: string, before: Said, after: Said];

const NOT_DOUBTED: readonly Case[] = [
  ["a charge that ends", "lifepo4", [14.2, 40, 99], [13.9, 0, 99]],
  ["a load that is switched off", "lifepo4", [12.9, -90, 60], [13.3, 0, 60]],
  ["a full bank whose charge tails off", "lifepo4", [14.2, 2, 100], [14.2, 0.4, 100]],
  ["lead", "agm", [14.2, 120, 50], [16.5, 0, 50]],
];

test.each(NOT_DOUBTED)("is not doubted: %s", (_, chemistry, before, after) => {
  const say = bank(chemistry);
  say(...before);
  expect(say(...after)).toBe("good");
});
