import { describe, expect, test } from "vitest";
import { type AlarmRecord, alarmRecordSchema } from "../alarms/alarm-record.ts";
import { twoSendersRule } from "../alarms/compile/two-senders.ts";
import { SECOND } from "../ground/time.ts";
import { memoryFor } from "./hidden-memory.ts";
import { hiddenTag, watchingLike } from "./hidden-rules.ts";

const rule = { ...twoSendersRule("engine/port/speed"), tag: "oil-low", onDelay: 60 * SECOND };
const alike = watchingLike(rule, hiddenTag("oil-low", "try", "0", "0"));
const sooner = { ...watchingLike(rule, hiddenTag("oil-low", "try", "0", "1")), onDelay: SECOND };
const mark = { ...twoSendersRule("engine/port/speed"), tag: hiddenTag("", "speed over 500 rpm") };
const rules = [rule, alike, sooner, mark];

function record(parts: Partial<AlarmRecord>): AlarmRecord {
  const plain = { tag: "oil-low", subject: "port", state: "normal", occurrence: 3 };
  return { ...alarmRecordSchema.parse({ ...plain, left: null, told: null }), ...parts };
}

describe("what hidden rules know when a run begins", () => {
  test("is what the owner's rule has learned, and a delay that is the same one goes on", () => {
    const owners = record({ left: 40 * SECOND, measure: { sum: [8] } });
    expect(memoryFor(rules, [owners])).toEqual([
      owners,
      { ...owners, tag: alike.tag },
      { ...owners, tag: sooner.tag, left: null },
    ]);
  });

  test("leaves out what only people do", () => {
    const hold = { kind: "shelved", left: SECOND, who: "Ellen" } as const;
    const owners = record({ state: "unacknowledged", patience: SECOND, risen: true, hold });
    expect(memoryFor([rule, alike], [owners])[1]).toEqual(
      record({ tag: alike.tag, state: "acknowledged" }),
    );
  });

  test("is their own once they have one, and nothing for a mark", () => {
    const records = [
      record({}),
      record({ tag: alike.tag, occurrence: 5 }),
      record({ tag: sooner.tag, occurrence: 6 }),
      record({ tag: mark.tag, state: "acknowledged" }),
    ];
    expect(memoryFor(rules, records)).toEqual(records.slice(0, 3));
  });
});
