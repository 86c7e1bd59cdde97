import { SignalTable } from "../../src/boat/signal-table.ts";
import { MILLISECOND, SECOND } from "../../src/ground/time.ts";
import { MqttOutlet } from "../../src/outputs/mqtt/mqtt-outlet.ts";
import { openStore } from "../../src/store/worker-store.ts";
import { BASE, RAISED } from "./mqtt-boat.ts";

/**
 * A program that keeps events and minutes and tells them to a broker, until it has made so many; then
 * it stops properly. It may be killed at any moment and started again: it goes on where it was.
 * Arguments: state folder, broker, events to make, first minute. A line for each event that is saved.
 */
const [folder, url, most, firstMinute] = Deno.args;
const store = await openStore(folder);
const encoder = new TextEncoder();
const clock = {
  steady: () => Math.round((performance.timeOrigin + performance.now()) * MILLISECOND),
  wall: () => Date.now() * MILLISECOND,
};
const outlet = await MqttOutlet.open({
  broker: { url },
  base: BASE,
  store,
  table: new SignalTable(),
  clock,
  random: () => 0,
  onAnswer: () => ({ accepted: true }),
  onCondition: () => {},
  onState: () => {},
  onNotice: () => {},
});

const turning = setInterval(
  () => outlet.turn({ now: clock.steady(), wallOf: (steady) => steady }),
  20,
);
while (store.lastNumber < Number(most)) {
  const number = store.lastNumber + 1;
  const sheet = store.history.lastSheet;
  // A minute for every event; after a kill between the two it is made again.
  if (sheet < number) {
    await store.history.add([{
      name: "battery/house/voltage",
      unit: "V",
      decimals: 2,
      minute: Number(firstMinute) + number,
      length: 1,
      count: 60,
      min: 12,
      mean: 12.5,
      max: 13,
    }], false);
  }
  const change = { ...RAISED, occurrence: number, time: clock.wall() - SECOND };
  await store.commit({ changes: [change] }).saved;
  Deno.stdout.writeSync(encoder.encode(`${number}\n`));
  await new Promise((resolve) => setTimeout(resolve, 4));
}
clearInterval(turning);
await outlet.stop(AbortSignal.timeout(20_000));
await store.close();
