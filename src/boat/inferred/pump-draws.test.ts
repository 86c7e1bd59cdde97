import { describe, expect, test } from "vitest";
import { MORNING, TalkingBoat } from "../../../tests/support/talking-boat.ts";
import { SECOND } from "../../ground/time.ts";
import type { Subject } from "../boat.ts";
import { PumpDraws } from "./pump-draws.ts";

const NOTHING = { words: {}, numbers: {}, relations: {} };
const SUBJECTS: readonly Subject[] = [
  {
    ...{ ...NOTHING, group: "bilge", name: "aft", relations: { battery: "house" } },
    keys: [{ quantity: "pump", instance: 0, indicator: 3 }],
    drawnStep: { from: 3, to: 8 },
  },
  { ...NOTHING, group: "battery", name: "house", keys: [{ quantity: "self", instance: 0 }] },
  {
    ...{ ...NOTHING, group: "charger", name: "shore", relations: { battery: "house" } },
    keys: [{ quantity: "self", instance: 0 }],
  },
];

/** A boat whose house battery tells its current once in 1.5 s; 20 s of two amperes out of it first. */
class Bilge {
  readonly boat = new TalkingBoat({ subjects: SUBJECTS });
  readonly #draws: PumpDraws;
  #at = 0;

  constructor(first = -2, pump: "on" | "off" = "off") {
    this.#draws = new PumpDraws(this.boat.signals.table, {
      ...{ name: "boat", units: {}, timeZone: "UTC", devices: [], networks: [], notices: [] },
      subjects: SUBJECTS,
    });
    this.pump(pump);
    this.current(...new Array<number>(14).fill(first));
  }

  pump(state: "on" | "off"): this {
    return this.#say(0.1, 127501, { instance: 0, "indicator-3": state });
  }

  current(...amperes: readonly number[]): this {
    for (const one of amperes) this.#say(1.5, 127508, { instance: 0, current: one });
    return this;
  }

  charger(state: string): this {
    return this.#say(0.1, 127507, { instance: 0, "operating-state": state });
  }

  get draws(): string {
    return this.boat.read("bilge/aft/pump-draws");
  }

  #say(after: number, pgn: number, values: Record<string, string | number>): this {
    this.#at += after;
    this.boat.say(this.#at, pgn, values);
    this.#draws.follow(MORNING + Math.round(this.#at * SECOND));
    this.boat.signals.table.clearFresh();
    return this;
  }
}

describe("whether a pump that is on takes current", () => {
  test("is told by the step of its battery, and is over with the pump", () => {
    const bilge = new Bilge().pump("on");
    expect(bilge.draws).toBe("off uncertain inferred");
    expect(bilge.current(-6.5).draws).toBe("on uncertain inferred");
    expect(bilge.current(-6.4, -2.1).pump("off").draws).toBe("off uncertain inferred");
  });

  test("stays off while the battery shows nothing", () => {
    expect(new Bilge().pump("on").current(-2, -2.1, -1.9, -2).draws).toBe("off uncertain inferred");
  });

  test("is told where the step came a moment before the switch bank spoke, or in two messages", () => {
    expect(new Bilge().current(-6.5).pump("on").draws).toBe("on uncertain inferred");
    expect(new Bilge().pump("on").current(-3.2, -6.5).draws).toBe("on uncertain inferred");
  });

  test("is told where the switch bank speaks only now and then, and the step came between", () => {
    const bilge = new Bilge().pump("off").current(-2, -6.5, -6.5, -6.5, -6.5).pump("on");
    expect(bilge.draws).toBe("on uncertain inferred");
  });

  test("is not known where a larger load went on with it, or it was on when first heard", () => {
    expect(new Bilge().pump("on").current(-60).draws).toBe("bad not-available");
    expect(new Bilge(-2, "on").current(-6.5).draws).toBe("bad not-available");
  });

  test("is not known while a charger is at work or the battery rested, which may hide it", () => {
    expect(new Bilge().charger("float").pump("on").current(-2).draws).toBe("bad not-available");
    expect(new Bilge().charger("fault").pump("on").current(-2).draws)
      .toBe("off uncertain inferred");
    expect(new Bilge(0).pump("on").current(0).draws).toBe("bad not-available");
  });

  test("cannot tell a fridge that starts with a dead pump, nor one that stops with a good one", () => {
    expect(new Bilge().pump("on").current(-7).draws).toBe("on uncertain inferred");
    const stopping = new Bilge(-7).pump("on").current(-6.5);
    expect(stopping.draws).toBe("off uncertain inferred");
  });
});
