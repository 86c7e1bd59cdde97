import { expect, test, vi } from "vitest";
import { readRules } from "../../alarms/rules/read-rules.ts";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { SECOND } from "../../ground/time.ts";
import { MemoryStore } from "../../store/memory-store.ts";
import { Watch } from "../../watch.ts";
import { KNOWN_QUANTITIES } from "../settings/read-boat.ts";
import { readSettings } from "../settings/settings.ts";
import { PhoneService } from "../../../tests/support/phone-service.ts";
import { speedOf } from "../../../tests/support/speed-frame.ts";
import { NOON } from "../../../tests/support/told-boat.ts";
import { openWatchPhones } from "./watch-phones.ts";

const RULES = `
alarms:
  - tag: too-fast
    title: Engine too fast
    each: engine
    high: { signal: speed, setpoint: 2600 rpm }
    priority: emergency-alarm
    consequence: It wears out.
    response: { aboard: Slow down., ashore: Call somebody. }
`;

test("who is aboard is told what to do aboard, anybody else what to do ashore", async () => {
  const service = new PhoneService();
  const { settings } = readSettings(
    "sternfast.yaml",
    "/",
    `people: [{ name: Ellen, reach: [{ post: "${service.url}" }] }]`,
  );
  const busNames = new BusNames();
  busNames.numberOf("can0");
  const rules = readRules("rules.yaml", RULES, KNOWN_QUANTITIES).value?.rules ?? [];
  const watch = new Watch({ boat: UNKNOWN_BOAT, rules, busNames });
  const store = new MemoryStore("00112233aabbccdd");
  let now = NOON;
  const phones = await openWatchPhones({
    settings,
    boat: UNKNOWN_BOAT,
    watch,
    store,
    clock: { steady: () => now, wall: () => now },
    say: () => {},
  });
  for (const engine of [0, 1]) {
    watch.feed(speedOf(engine, 3000, now += SECOND));
    store.commit({ changes: watch.takeChanges() });
    phones?.alarmsSaved?.([]);
    await vi.waitUntil(() => service.taken.length > engine);
    // Whoever comes aboard says so.
    watch.setCondition("aboard");
  }
  expect(service.taken.map(({ message: { text } }) => text)).toEqual([
    expect.stringMatching(/engine 0 speed 3,000 rpm, limit 2,600 rpm, since .* Call somebody\.$/),
    expect.stringMatching(/engine 1 speed 3,000 rpm, limit 2,600 rpm, since .* Slow down\.$/),
  ]);
  await phones?.stop(AbortSignal.timeout(1_000));
});
