import { describe, expect, test } from "vitest";
import { MORNING, TalkingBoat } from "../../../tests/support/talking-boat.ts";
import { HOUR, MINUTE, SECOND } from "../../ground/time.ts";
import { type Subject, UNKNOWN_BOAT } from "../boat.ts";
import { PumpStarts } from "./pump-starts.ts";

const SUBJECTS: readonly Subject[] = [{
  ...{ group: "bilge", name: "aft", words: {}, numbers: {}, relations: {} },
  keys: [{ quantity: "pump", instance: 0, indicator: 3 }],
}];
const BANK = 127501;
const EVERY = 10 * SECOND;

/** A boat whose switch bank says once in ten seconds how the pump stands. */
class Bilge {
  readonly boat = new TalkingBoat({ subjects: SUBJECTS });
  readonly starts = new PumpStarts(this.boat.signals.table, {
    ...UNKNOWN_BOAT,
    subjects: SUBJECTS,
  });
  #at = 0;

  stays(state: "on" | "off" | null, length: number): this {
    for (const end = this.#at + length; this.#at < end; this.#at += EVERY) {
      while (this.starts.nextDue <= MORNING + this.#at) this.starts.runTimer();
      this.boat.say(this.#at / SECOND, BANK, { instance: 0, "indicator-3": state });
      this.starts.follow(MORNING + this.#at);
    }
    return this;
  }

  get figure(): string {
    return this.boat.read("bilge/aft/starts-per-hour");
  }
}

describe("the starts of a bilge pump in the last hour", () => {
  test("are counted, and uncertain until the pump was known for an hour", () => {
    const bilge = new Bilge().stays("off", MINUTE);
    expect(bilge.figure).toBe("0 uncertain inferred");
    for (let start = 0; start < 4; start++) bilge.stays("on", MINUTE).stays("off", 4 * MINUTE);
    expect(bilge.figure).toBe("4 uncertain inferred");
    bilge.stays("off", 39 * MINUTE);
    expect(bilge.figure).toBe("4 uncertain inferred");
    bilge.stays("off", 20 * SECOND);
    expect(bilge.figure).toBe("4 good");
  });

  test("leave the count exactly an hour after they came", () => {
    const bilge = new Bilge().stays("off", HOUR).stays("on", MINUTE).stays("off", HOUR - MINUTE);
    expect(bilge.figure).toBe("1 good");
    expect(bilge.starts.nextDue).toBe(MORNING + 2 * HOUR);
    expect(bilge.stays("off", EVERY).figure).toBe("0 good");
  });

  test("do not count a pump that runs when it is first heard", () => {
    expect(new Bilge().stays("on", MINUTE).stays("off", HOUR).figure).toBe("0 good");
  });

  test("are not known while the pump is not, and uncertain for an hour afterwards", () => {
    const bilge = new Bilge().stays("off", HOUR).stays("on", MINUTE).stays("off", MINUTE);
    expect(bilge.stays(null, MINUTE).figure).toBe("bad not-available");
    expect(bilge.stays("off", MINUTE).figure).toBe("1 uncertain inferred");
    expect(bilge.stays("off", HOUR).figure).toBe("0 good");
  });
});
