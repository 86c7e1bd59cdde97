import { describe, expect, test } from "vitest";
import { SECOND } from "../ground/time.ts";
import { RecentValues } from "./recent-values.ts";
import { SignalTable } from "./signal-table.ts";

const START = 1_000 * SECOND;

function watched() {
  const table = new SignalTable();
  const [voltage, current] = ["voltage", "current"].map((quantity) =>
    table.intern({
      name: `battery/house/${quantity}`,
      group: "battery",
      subject: "house",
      quantity,
      unit: "V",
      decimals: 2,
      words: null,
      span: null,
      derived: false,
    })
  );
  const recent = new RecentValues(table, (signal) => signal === voltage);
  const look = (seconds: number, value: number) => {
    table.values[voltage] = value;
    table.values[current] = value;
    recent.look(START + seconds * SECOND);
  };
  const known = () => {
    const { times, values } = recent.of("battery/house/voltage") ?? { times: [], values: [] };
    return times.map((time, i) => [(time - START) / SECOND, values[i]])
      .filter(([, value]) => !Number.isNaN(value));
  };
  return { recent, look, known };
}

describe("recent values", () => {
  test("are one a second, the first of each", () => {
    const { look, known } = watched();
    look(0, 12.5);
    look(0.4, 12.4);
    look(1, 12.3);
    expect(known()).toEqual([[0, 12.5], [1, 12.3]]);
  });

  test("have a gap where nobody looked or nothing was known", () => {
    const { look, known } = watched();
    look(0, 12.5);
    look(3, 12.3);
    look(4, NaN);
    look(5, 12.2);
    expect(known()).toEqual([[0, 12.5], [3, 12.3], [5, 12.2]]);
  });

  test("go back ten minutes, over a gap of any length", () => {
    const { look, known, recent } = watched();
    for (let second = 0; second <= 700; second++) look(second, second);
    expect(recent.of("battery/house/voltage")?.values).toHaveLength(600);
    expect(known()[0]).toEqual([101, 101]);
    look(1_290, 1);
    expect(known().map(([second]) => second)).toEqual([
      ...[691, 692, 693, 694, 695, 696, 697, 698, 699, 700],
      1_290,
    ]);
    look(99_999, 2);
    expect(known()).toEqual([[99_999, 2]]);
  });

  test("are kept of signals that are wanted only", () => {
    const { look, recent } = watched();
    look(0, 12.5);
    expect(recent.of("battery/house/current")).toBeUndefined();
    expect(recent.of("battery/start/voltage")).toBeUndefined();
  });
});
