import { describe, expect, onTestFinished, test } from "vitest";
import { Chaos, print } from "../support/chaos.ts";
import { ANYBODY, hasMosquitto, Mosquitto, WITH_MEMORY } from "../support/mosquitto.ts";

/** A real mosquitto that is killed and comes back, and a shore that must miss nothing. */
describe.skipIf(!hasMosquitto())("with a broker that is killed again and again", () => {
  test.each([
    ["without its memory", ANYBODY],
    ["with its memory", WITH_MEMORY],
  ])("and comes back %s, every event and minute is ashore once and in order", async (how, more) => {
    const broker = await Mosquitto.start(undefined, more);
    onTestFinished(() => broker.stop());
    const chaos = new Chaos();
    await chaos.begin(broker.url);
    await chaos.until(() => chaos.boat.connected && chaos.shore.connected);

    for (let round = 0; round < 6; round++) {
      chaos.happen(80);
      await chaos.pass(20);
      const { outbox } = chaos.boat.outlet;
      const begun = outbox.mark;
      // Somewhere in the middle; each round a little later.
      await chaos.until(() => outbox.mark > begun + 10 * round);
      await broker.kill();
      await chaos.until(() => !chaos.boat.connected && !chaos.shore.connected);
      chaos.happen(20);
      await broker.restart();
      await chaos.until(() => chaos.boat.connected && chaos.shore.connected);
    }
    await chaos.pass(15);
    await chaos.until(() => chaos.isAshore);
    const found = await chaos.found();
    print(`killed 6 times, back ${how}: ${JSON.stringify(found)}`);
    expect(found).toEqual(chaos.made);
  });

  test("that does not let the boat in at first, all comes once it does", async () => {
    const broker = await Mosquitto.start(undefined, "allow_anonymous false\n");
    onTestFinished(() => broker.stop());
    const chaos = new Chaos();
    await chaos.begin(broker.url);
    chaos.happen(10);
    await chaos.until(() => chaos.boat.states.filter(({ state }) => state === "away").length > 2);
    expect(chaos.boat.states.find(({ state }) => state === "away")).toMatchObject({
      why: expect.stringContaining("does not accept our sign-in"),
    });
    await broker.kill();
    Deno.writeTextFileSync(
      `${broker.folder}/mosquitto.conf`,
      `listener ${broker.port} 127.0.0.1\n${ANYBODY}`,
    );
    await broker.restart();
    await chaos.until(() => chaos.isAshore);
    expect(await chaos.found()).toEqual(chaos.made);
  });
});
