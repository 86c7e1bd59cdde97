import { expect, test } from "vitest";
import { SEASON } from "../../alarms/proof.ts";
import { readRules } from "../../alarms/rules/read-rules.ts";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { HOUR, type Micros, parseIsoTime, SECOND } from "../../ground/time.ts";
import { MemoryStore } from "../../store/memory-store.ts";
import { Watch } from "../../watch.ts";
import { KNOWN_QUANTITIES } from "../settings/read-boat.ts";
import { openProofRegister } from "./proof-register.ts";

const SPRING = parseIsoTime("2027-04-01T10:00:00Z") ?? 0;
const RULES = `alarms:
  - tag: far-away
    title: Deep water
    high: { signal: sea/temperature, setpoint: 30 °C }
    priority: alarm
    consequence: It boils.
    response: { aboard: Leave., ashore: Call. }
`;

/** A watch that begins at a wall time, on a store that may have been there before. */
async function begin(wall: Micros, store = new MemoryStore("00112233aabbccdd")) {
  const rules = readRules("rules.yaml", RULES, KNOWN_QUANTITIES).value?.rules ?? [];
  const watch = new Watch({ boat: UNKNOWN_BOAT, rules, busNames: new BusNames() });
  const clock = { now: wall };
  const said: string[] = [];
  watch.advance(wall);
  const register = await openProofRegister({
    watch,
    store,
    clock: { steady: () => clock.now, wall: () => clock.now },
    say: (sentence) => said.push(sentence),
  });
  const at = (later: Micros) => {
    clock.now = later;
    watch.advance(later);
    register.turn?.(later);
    return watch.takeChanges().map(({ tag, to }) => `${tag} ${to}`);
  };
  return { at, said, store, watch };
}

test("an alarm that nobody has heard is due a season after the watch began for the first time", async () => {
  const first = await begin(SPRING);
  expect(first.at(SPRING)).toEqual([]);
  expect(first.at(SPRING + SEASON)).toEqual([]);
  const later = await begin(SPRING + SEASON + SECOND, first.store);
  expect(later.at(SPRING + SEASON + SECOND)).toEqual(["proof-due acknowledged"]);
  expect(later.said).toEqual(["Not heard for half a year, so try them: Deep water, boat."]);
  const caution = later.watch.alarms.statuses().find(({ tag }) => tag === "proof-due");
  expect(caution).toMatchObject({
    subject: "boat",
    priority: "caution",
    value: 1,
    message: "1 alarm was not made to sound for half a year",
  });
});

test("it is told once, and not again each hour", async () => {
  const { at, said } = await begin(SPRING);
  at(SPRING);
  expect(at(SPRING + SEASON + SECOND)).toHaveLength(1);
  for (let hour = 1; hour < 5; hour++) {
    expect(at(SPRING + SEASON + SECOND + hour * HOUR)).toEqual([]);
  }
  expect(said).toHaveLength(1);
});

test("while the computer's clock is not set nothing is due", async () => {
  const { at, said } = await begin(SECOND);
  expect(at(2 * SEASON)).toEqual([]);
  expect(said).toEqual([]);
});
