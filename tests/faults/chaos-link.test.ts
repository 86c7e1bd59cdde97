import { describe, expect, onTestFinished, test } from "vitest";
import { DAY, MINUTE, SECOND } from "../../src/ground/time.ts";
import { BadLink } from "../support/bad-link.ts";
import { Chaos, print } from "../support/chaos.ts";
import { hasMosquitto, Mosquitto, Reader } from "../support/mosquitto.ts";
import { BASE, STATUS } from "../support/mqtt-boat.ts";
import { ShoreSide } from "../support/shore-side.ts";

/** A real mosquitto behind a link that fails in every way that links fail. */
describe.skipIf(!hasMosquitto())("with a bad link", () => {
  async function begin(more = {}) {
    const broker = await Mosquitto.start();
    const link = new BadLink(broker.port);
    onTestFinished(async () => {
      link.stop();
      await broker.stop();
    });
    const chaos = new Chaos();
    await chaos.begin(link.url, broker.url, more);
    await chaos.until(() => chaos.boat.connected && chaos.shore.connected);
    return { broker, link, chaos };
  }

  test("a day without it leaves no hole, and old alarm states are not replayed", async () => {
    const { broker, link, chaos } = await begin();
    const reader = await Reader.start(broker.port, `${BASE}alarm/#`);
    onTestFinished(() => reader.stop());
    chaos.happen(5);
    await chaos.until(() => chaos.isAshore);
    link.cut();
    await chaos.until(() => !chaos.boat.connected);
    for (let hour = 0; hour < 24; hour++) {
      chaos.happen(10);
      await chaos.pass(60);
      chaos.boat.outlet.alarms([{ ...STATUS, occurrence: hour + 1 }]);
    }
    await chaos.until(() => chaos.shore.boat.heard.state.name === "unacknowledged", 30 * SECOND);
    chaos.boat.now += DAY;
    link.mend();
    await chaos.until(() => chaos.isAshore, 2 * SECOND);
    const found = await chaos.found();
    print(
      `a day away: ${JSON.stringify(found)}, ${reader.messages.length} alarm state, ` +
        `${Math.round(link.carried / 1024)} kB`,
    );
    expect(found).toEqual(chaos.made);
    expect(reader.messages).toHaveLength(1);
    expect(reader.latest(`${BASE}alarm/${STATUS.tag}/port`)).toMatchObject({ occurrence: 24 });
    await chaos.until(() => chaos.shore.boat.heard.state.name === "returned-unacknowledged");
    expect(await chaos.shore.shore.eventsAfter(0, 9)).toMatchObject([
      { change: { tag: "boat-not-heard", to: "unacknowledged" } },
      { change: { tag: "boat-not-heard", to: "returned-unacknowledged" } },
    ]);
  });

  test("one that stops carrying without a word is noticed, and nothing on it is lost", async () => {
    const { link, chaos } = await begin();
    chaos.happen(40);
    link.stick();
    chaos.happen(40);
    await chaos.pass(15);
    await chaos.until(() => chaos.boat.states.some(({ state }) => state === "away"), 0);
    link.cut();
    link.mend();
    await chaos.until(() => chaos.isAshore);
    const found = await chaos.found();
    print(`half-open: ${JSON.stringify(found)}`);
    expect(found).toEqual(chaos.made);
  });

  test("a slow one carries everything, in order", async () => {
    const { link, chaos } = await begin();
    link.mend(60);
    chaos.happen(200);
    await chaos.pass(60);
    await chaos.until(() => chaos.isAshore);
    expect(await chaos.found()).toEqual(chaos.made);
  });

  test("what a broker aboard has accepted and lost is asked for from ashore", async () => {
    const { broker, chaos } = await begin();
    const { link } = chaos.shore;
    await link.stop();
    chaos.happen(30);
    await chaos.pass(30);
    // The broker accepts it all, and nobody listens.
    await chaos.until(() => chaos.boat.outlet.outbox.mark === 30);
    expect(chaos.boat.outlet.outbox.ashore).toBe(0);
    const clock = { steady: () => chaos.boat.now, wall: () => chaos.boat.now };
    const late = await ShoreSide.start(broker.url, clock);
    onTestFinished(() => late.stop());
    chaos.boat.turn(6 * MINUTE);
    await chaos.until(() => {
      late.tick();
      return chaos.isAshore;
    });
    expect(await late.occurrences()).toEqual(Array.from({ length: 30 }, (_, i) => i + 1));
  });
});
