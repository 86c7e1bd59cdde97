import { expect, test } from "vitest";
import { Columns } from "./columns.ts";
import { encodeMessage, type WireValues } from "./encode.ts";
import { ALL_ROWS } from "./rows/all.ts";
import { TroubleCodeList } from "./trouble-code-list.ts";
import { ACTIVE_TROUBLE_CODES, EARLIER_TROUBLE_CODES } from "./trouble-codes.ts";

const columns = new Columns(ALL_ROWS);
const LOW_OIL = { spn: 100, fmi: "far-below-range", occurrences: 2, "old-layout": "no" };
const HOT = { spn: 110, fmi: "far-above-range", occurrences: 1, "old-layout": "no" };

function listing() {
  const list = new TroubleCodeList();
  const say = (pgn: number, source: number, ...codes: readonly WireValues[]) => {
    const row = columns.rowOf(pgn);
    const bytes = encodeMessage(ALL_ROWS[row], {}, codes);
    const place = { bus: 0, source, destination: 255, start: 0, length: bytes.length };
    list.take(columns, { ...place, pgn, row, bytes }, pgn === ACTIVE_TROUBLE_CODES);
  };
  const told = () =>
    list.codes.map(({ isActive, occurrences, source, spn }) => [
      source,
      spn,
      isActive ? "active" : "over",
      occurrences,
    ]);
  return { say, told };
}

test("a code is active until a list of active ones comes without it, and is then remembered", () => {
  const { say, told } = listing();
  say(ACTIVE_TROUBLE_CODES, 1, LOW_OIL, HOT);
  say(ACTIVE_TROUBLE_CODES, 0, HOT);
  say(ACTIVE_TROUBLE_CODES, 1, { ...LOW_OIL, occurrences: 3 });
  expect(told()).toEqual([[0, 110, "active", 1], [1, 100, "active", 3], [1, 110, "over", 1]]);
  say(ACTIVE_TROUBLE_CODES, 1);
  expect(told()).toEqual([[0, 110, "active", 1], [1, 100, "over", 3], [1, 110, "over", 1]]);
});

test("a list of earlier codes ends none that is active", () => {
  const { say, told } = listing();
  say(ACTIVE_TROUBLE_CODES, 1, LOW_OIL);
  say(EARLIER_TROUBLE_CODES, 1, HOT);
  say(EARLIER_TROUBLE_CODES, 1, LOW_OIL);
  expect(told()).toEqual([[1, 100, "active", 2], [1, 110, "over", 1]]);
});

test("of one sender only so many are kept", () => {
  const { say, told } = listing();
  for (let spn = 1; spn <= 1000; spn++) say(ACTIVE_TROUBLE_CODES, 1, { ...HOT, spn });
  expect(told()).toHaveLength(64);
});
