import { describe, expect, test } from "vitest";
import type { AlarmRecord } from "../alarms/alarm-record.ts";
import { memoryLines, readMemory } from "./memory-lines.ts";

const record = (tag: string): AlarmRecord => ({
  tag,
  subject: "port",
  state: "acknowledged",
  occurrence: 3,
  left: null,
  patience: null,
  risen: false,
  hold: null,
  measure: { usual: [1, 2.5] },
  told: null,
});

describe("what alarms remember between rehearsals", () => {
  test("comes back as it was written, an alarm a line", () => {
    const records = [record("oil-low"), record("coolant-hot")];
    const text = memoryLines(records);
    expect(text.trim().split("\n")).toHaveLength(2);
    expect(readMemory("m.jsonl", text)).toEqual({ records, problems: [] });
    expect(readMemory("m.jsonl", "")).toEqual({ records: [], problems: [] });
  });

  test("leaves out rules that only a rehearsal knows", () => {
    expect(memoryLines([record("mark:start")])).toBe("");
  });

  test("names every line that cannot be read", () => {
    const text = `${memoryLines([record("oil-low")])}nonsense\n{"tag":"x"}\n`;
    const { records, problems } = readMemory("m.jsonl", text);
    expect(records).toEqual([record("oil-low")]);
    expect(problems.map(({ place }) => place.line)).toEqual([2, 3]);
  });
});
