import { describe, expect, test } from "vitest";
import type { RoomLeft } from "../../alarms/change.ts";
import { NOT_WATCHING } from "../../alarms/not-judged.ts";
import { SignalTable } from "../../boat/signal-table.ts";
import { distanceWords } from "./limit-line.ts";
import { roomLines } from "./room-lines.ts";

const OWNERS = { pressure: "psi", temperature: "°F" };
const PSI = 6894.757293168362;

const OIL: RoomLeft = {
  tag: "low-oil",
  subject: "port",
  title: "Low oil pressure",
  priority: "alarm",
  signal: "engine/port/oil-pressure",
  kind: "reading",
  value: 32 * PSI,
  setpoint: 18 * PSI,
  unit: "Pa",
  side: "low",
  room: 14 * PSI / 400_000,
  reason: "",
};

function room(signal: string, share: number | null, more: Partial<RoomLeft> = {}): RoomLeft {
  return { ...OIL, signal, room: share, ...more };
}

function table(): SignalTable {
  const signals = new SignalTable();
  for (const subject of ["port", "starboard", "wing"]) {
    signals.intern({
      name: `engine/${subject}/oil-pressure`,
      group: "engine",
      subject,
      quantity: "oil-pressure",
      unit: "Pa",
      decimals: 0,
      words: null,
      span: 400_000,
      derived: false,
    });
  }
  return signals;
}

describe("the distance to a limit", () => {
  test("is said in the owner's units", () => {
    expect(distanceWords(OIL, OWNERS)).toBe("14 psi above its limit 18 psi");
  });

  test("of a temperature is a difference, not a temperature", () => {
    const coolant: RoomLeft = {
      ...OIL,
      unit: "Cel",
      side: "high",
      value: 90,
      setpoint: 95,
      room: 5 / 60,
    };
    expect(distanceWords(coolant, OWNERS)).toBe("9 °F below its limit 203 °F");
  });

  test("beyond the limit is called past it", () => {
    expect(distanceWords({ ...OIL, value: 11 * PSI, room: -0.1 }, OWNERS)).toBe(
      "past its limit 18 psi by 7 psi",
    );
  });

  test("too small for the owner's decimals is not said as zero", () => {
    expect(distanceWords({ ...OIL, value: 18.3 * PSI, room: 0.005 }, OWNERS)).toBe(
      "just above its limit 18 psi",
    );
    expect(distanceWords({ ...OIL, value: 17.8 * PSI, room: -0.003 }, OWNERS)).toBe(
      "past its limit 18 psi",
    );
    expect(distanceWords({ ...OIL, value: 18 * PSI, room: 0 }, OWNERS)).toBe(
      "at its limit 18 psi",
    );
    const volts: RoomLeft = { ...OIL, unit: "V", value: 12.9, setpoint: 12.4, room: 0.25 };
    expect(distanceWords(volts, OWNERS)).toBe("0.50 V above its limit 12.40 V");
  });

  test("between percentages is in points", () => {
    const level: RoomLeft = { ...OIL, unit: "%", value: 58, setpoint: 33, room: 0.25 };
    expect(distanceWords(level, OWNERS)).toBe("25 points above its limit 33 %");
  });
});

describe("the rows of room left", () => {
  const port = "engine/port/oil-pressure";
  const starboard = "engine/starboard/oil-pressure";
  const wing = "engine/wing/oil-pressure";
  const order = (rooms: RoomLeft[], previous?: ReturnType<typeof roomLines>) =>
    roomLines(rooms, table(), OWNERS, previous);
  const names = (lines: ReturnType<typeof roomLines>) =>
    lines.map((line) => line.id.replaceAll(".", "/"));

  test("come least room first, those that cannot be judged last", () => {
    const lines = order([
      room(wing, null, { reason: "not watched now" }),
      room(port, 0.5),
      room(starboard, -0.1),
    ]);
    expect(names(lines)).toEqual([starboard, port, wing]);
    expect(lines[2]).toMatchObject({ distance: "not watched now", room: null, picture: null });
  });

  test("stay in their places while the difference is small", () => {
    const before = order([room(port, 0.5), room(starboard, 0.51)]);
    expect(names(order([room(port, 0.52), room(starboard, 0.5)], before))).toEqual([
      port,
      starboard,
    ]);
    expect(names(order([room(port, 0.6), room(starboard, 0.5)], before))).toEqual([
      starboard,
      port,
    ]);
  });

  test("change places at once when a limit is passed", () => {
    const before = order([room(port, 0.01), room(starboard, 0.01)]);
    expect(names(order([room(port, 0.01), room(starboard, -0.001)], before))).toEqual([
      starboard,
      port,
    ]);
  });

  test("hold all limits of one signal and speak of the nearest", () => {
    const [line] = order([
      room(port, 0.4, { setpoint: 10 * PSI }),
      room(port, 0.2, { setpoint: 18 * PSI }),
    ]);
    expect(line.name).toBe("Port engine oil pressure");
    expect(line.distance).toContain("18 psi");
    expect(line.picture?.limits).toHaveLength(2);
  });

  test("take the highest priority of the limits that are passed", () => {
    const [line] = order([
      room(port, -0.3, { priority: "warning" }),
      room(port, -0.1, { priority: "alarm" }),
      room(port, 0.1, { priority: "emergency-alarm" }),
    ]);
    expect(line.passed).toBe("alarm");
  });

  test("say in seconds how long a signal has not been heard, apart from its value's limits", () => {
    const age: Partial<RoomLeft> = {
      kind: "age",
      unit: "s",
      side: "high",
      value: 2.4,
      setpoint: 5,
    };
    const [heard] = order([room(port, 0.52, age)]);
    expect(heard).toMatchObject({
      name: "Port engine oil pressure, heard",
      value: { number: "2", unit: "s" },
      distance: "3 s before its limit 5 s",
      room: 0.6,
      passed: null,
    });
    const lines = order([room(port, 0.5), room(port, -0.4, { ...age, value: 7.2 })]);
    expect(lines.map((line) => line.distance)).toEqual([
      "not heard for 7 s, its limit 5 s",
      "14 psi above its limit 18 psi",
    ]);
  });

  test("hold what is worked out of a signal apart from what it reads", () => {
    const rising: Partial<RoomLeft> = {
      tag: "rising",
      title: "Coolant rises fast",
      kind: "difference",
      unit: "Cel",
      side: "high",
      value: 1.5,
      setpoint: 6,
    };
    const lines = order([room(port, 0.035), room(port, 0.75, rising)]);
    expect(lines.map(({ name, value, distance }) => [name, value.number, distance])).toEqual([
      ["Port engine oil pressure", "32", "14 psi above its limit 18 psi"],
      ["Coolant rises fast, port", "3", "8 °F below its limit 11 °F"],
    ]);
    expect(lines[0].picture?.limits).toEqual([{ at: 18 * PSI, side: "low" }]);
    expect(lines[1].picture).toEqual({
      value: 1.5,
      limits: [{ at: 6, side: "high" }],
      span: 6,
    });
  });

  test("hold how long a thing ran apart from how long it was not heard", () => {
    const [line] = order([room(port, 0.5, {
      tag: "runs-long",
      title: "Pump runs long",
      kind: "figure",
      unit: "s",
      side: "high",
      value: 90,
      setpoint: 180,
    })]);
    expect(line).toMatchObject({
      name: "Pump runs long, port",
      value: { number: "90", unit: "s" },
      distance: "90 s below its limit 180 s",
    });
  });

  test("say when a rule leaves its signal alone on purpose", () => {
    expect(order([room(port, null, { reason: NOT_WATCHING })])[0].distance).toBe("not watched now");
  });
});
