import { describe, expect, test } from "vitest";
import type { RoomLeft } from "../../alarms/change.ts";
import { leastWords } from "./least-words.ts";

const OWNERS = { pressure: "psi" };
const PSI = 6894.757293168362;
const SPAN = 400_000;
const share = (psi: number) => psi * PSI / SPAN;

function room(now: number | null, hour: number | null, day: number | null): RoomLeft {
  const of = (psi: number | null) => psi === null ? null : share(psi);
  return {
    ...{ tag: "low-oil", subject: "port", title: "Low oil pressure", priority: "alarm" },
    ...{ signal: "engine/port/oil-pressure", kind: "reading", value: 40 * PSI, setpoint: 18 * PSI },
    ...{ unit: "Pa", side: "low", room: of(now), reason: "", hour: of(hour), day: of(day) },
  };
}

describe("the least room of the last hour and day", () => {
  const words = (...rooms: RoomLeft[]) => leastWords(rooms, SPAN, "Pa", OWNERS);

  test("is said in the owner's units, where there was less than now", () => {
    expect(words(room(22, 22, 22))).toBe("");
    expect(words(room(22, 14, 14))).toBe("least in the last hour 14 psi");
    expect(words(room(22, 22, 14))).toBe("least in the last day 14 psi");
    expect(words(room(22, 14, 4))).toBe("least in the last hour 14 psi, in the last day 4 psi");
  });

  test("is past the limit where it was", () => {
    expect(words(room(22, 14, -2))).toBe(
      "least in the last hour 14 psi, in the last day past it by 2 psi",
    );
    expect(words(room(22, 22, -0.1))).toBe("least in the last day past it");
    expect(words(room(22, 22, 0))).toBe("least in the last day none");
  });

  test("is said of a signal that is not judged now, and that of the rule that came nearest", () => {
    expect(words(room(null, null, 14))).toBe("least in the last day 14 psi");
    expect(words(room(22, 20, 18), room(30, 14, 14))).toBe("least in the last hour 14 psi");
    expect(words(room(null, null, null))).toBe("");
  });

  test("in percent is points", () => {
    expect(leastWords([{ ...room(null, null, null), day: 0.25, unit: "%" }], 100, "%", OWNERS))
      .toBe("least in the last day 25 points");
  });
});
