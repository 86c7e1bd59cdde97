import { expect, test } from "vitest";
import { CATALOGUE } from "../../src/boat/catalogue.ts";
import { MessageLayouts } from "../../src/boat/message-layouts.ts";
import { signalFacts } from "../../src/boat/naming.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";

/** Every signal that a device can bring, as the world sees it. */
test("names, units, decimals and spans of signals", async () => {
  const layouts = new MessageLayouts(CATALOGUE, new Columns(ALL_ROWS));
  const lines = new Set(["name,unit,decimals,span"]);
  for (const [layout, { group, keys, only }] of layouts.entries.entries()) {
    const name = keys.length === 0 ? only ?? "" : "SUBJECT";
    for (const slot of layouts.slots[layout]) {
      const facts = signalFacts(slot, { group, name, described: null });
      lines.add(`${facts.name},${facts.unit},${facts.decimals},${facts.span ?? ""}`);
    }
  }
  await expect([...lines, ""].join("\n")).toMatchFileSnapshot("signals.csv");
});
