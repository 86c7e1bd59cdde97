import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { readBoatFile } from "../../boat/boat-file.ts";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { BUILT } from "../../ground/clock.ts";
import { HOUR } from "../../ground/time.ts";
import { ALL_ROWS } from "../../nmea2000/rows/all.ts";
import { MemoryStore } from "../../store/memory-store.ts";
import { Watch } from "../../watch.ts";
import { keepKnowledge, readKnowledge } from "./kept-knowledge.ts";
import { openSource } from "../sources/open-source.ts";

const RECORDINGS = fileURLToPath(
  new URL("../../../examples/hazel-comfort/recordings", import.meta.url),
);
const NOON = BUILT + 12 * HOUR;
const clock = { steady: () => 0, wall: () => NOON };

async function feed(watch: Watch, buses: BusNames, recording: string): Promise<void> {
  const source = await openSource(recording, { buses, folder: RECORDINGS });
  for await (const batch of source.batches()) watch.feed(batch);
}

test("a listener that joins late knows the devices of the run before", async () => {
  const store = new MemoryStore("00112233aabbccdd");
  const buses = new BusNames();
  const watch = new Watch({ boat: UNKNOWN_BOAT, rules: [], busNames: buses });
  await feed(watch, buses, "oil-pressure-falls.log.gz");
  const gateway = [...watch.devices.devices].find(({ address }) =>
    watch.devices.tallies.of(0, address ?? 255)
      .some(({ row }) => ALL_ROWS[row].pgn === 127489)
  );
  expect(gateway?.product?.serial).toBeTruthy();
  await keepKnowledge({ watch, buses, store, clock }).stop(AbortSignal.abort());

  const knowledge = await readKnowledge(store);
  expect(knowledge.rememberedDevices.length).toBe([...watch.devices.devices].length);
  expect(knowledge.clockNotBefore).toBe(NOON);

  // This recording begins in the middle: nobody claims an address or says a serial number in it.
  const { boat } = readBoatFile(
    "boat.yaml",
    `engines: { wing: { instance: 0, device: box } }\n` +
      `devices: { box: { serial: "${gateway?.product?.serial}" } }\n`,
  );
  const later = new BusNames();
  const second = new Watch({
    boat: boat ?? UNKNOWN_BOAT,
    rules: [],
    busNames: later,
    ...knowledge,
  });
  await feed(second, later, "charger-fault.log.gz");
  expect(second.signals.table.find("engine/wing/speed")).toBeGreaterThanOrEqual(0);
});

test("a state folder that knows nothing, or nothing that can be read, begins anew", async () => {
  const store = new MemoryStore("00112233aabbccdd");
  expect(await readKnowledge(store)).toEqual({ rememberedDevices: [], clockNotBefore: BUILT });
  store.commit({ documents: [{ kind: "fact", key: "devices", text: "[{" }] });
  expect((await readKnowledge(store)).rememberedDevices).toEqual([]);
});
