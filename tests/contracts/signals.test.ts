import { expect, test } from "vitest";
import { CATALOGUE } from "../../src/boat/catalogue.ts";
import type { CatalogueEntry } from "../../src/boat/catalogue/entry.ts";
import { COMPUTER_QUANTITIES } from "../../src/boat/computer-state.ts";
import { WORKED_OUT } from "../../src/boat/derived-signals.ts";
import { MessageLayouts } from "../../src/boat/message-layouts.ts";
import { signalFacts } from "../../src/boat/naming.ts";
import { Columns } from "../../src/nmea2000/columns.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";

/** Every signal that a device can bring, as the world sees it. */
test("names, units, decimals and spans of signals", async () => {
  const layouts = new MessageLayouts(CATALOGUE, new Columns(ALL_ROWS));
  const lines = new Set(["name,unit,decimals,span"]);
  for (const [layout, entry] of layouts.entries.entries()) {
    const { group } = entry;
    const name = subjectOf(entry);
    for (const slot of layouts.slots[layout]) {
      const facts = signalFacts(slot, { group, name, described: null });
      lines.add(`${facts.name},${facts.unit},${facts.decimals},${facts.span ?? ""}`);
    }
  }
  for (const { group, quantity, unit, decimals, span } of WORKED_OUT) {
    const name = group === "computer" ? "" : "SUBJECT/";
    lines.add(`${group}/${name}${quantity},${unit},${decimals},${span ?? ""}`);
  }
  for (const [quantity, { unit, decimals, span }] of Object.entries(COMPUTER_QUANTITIES)) {
    lines.add(`computer/${quantity},${unit},${decimals},${span ?? ""}`);
  }
  await expect([...lines, ""].join("\n")).toMatchFileSnapshot("signals.csv");
});

/** How an unnamed subject is called: by number, by bus and address, or not at all. */
function subjectOf({ by, keys, only = "" }: CatalogueEntry): string {
  if (by !== undefined) return "BUS-ADDRESS";
  return keys.every(({ unsaid }) => unsaid !== undefined) ? only : "SUBJECT";
}
