import { openStore } from "../../src/store/worker-store.ts";
import { highWater } from "./high-water.ts";

/**
 * A program that does nothing but commit: one turn after another, each with one event and the alarm
 * memory that goes with it, and a line with the number once it is saved. It runs until it is killed.
 */
const store = await openStore(Deno.args[0]);
const encoder = new TextEncoder();

for (;;) {
  const number = store.lastNumber + 1;
  const change = highWater({ occurrence: number, time: number });
  await store.commit({
    changes: [change],
    documents: [{ kind: "alarm-memory", key: "bilge-high-water/aft", text: String(number) }],
  }).saved;
  Deno.stdout.writeSync(encoder.encode(`${number}\n`));
}
