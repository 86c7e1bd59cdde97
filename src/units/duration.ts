import { DAY, HOUR, type Micros, MILLISECOND, MINUTE, SECOND } from "../ground/time.ts";
import type { Misread } from "./misread.ts";
import { findUnit, nearestUnit, unitNames } from "./units.ts";

export type ReadDuration = { readonly ok: true; readonly value: Micros } | Misread;

const PART = /\s*(\d+(?:\.\d+)?)\s*([^\s\d.]+)/y;
/** Longer than any boat lasts, and exact in microseconds. */
const LONGEST: Micros = 100 * 366 * DAY;

/** `3 s`, `100 ms`, `1 h 30 min`: never negative, parts from the longest to the shortest. */
export function parseDuration(text: string): ReadDuration {
  const expected = "a time, such as 3 s, 10 min or 1 h 30 min";
  let total = 0;
  let last = Infinity;
  let end = 0;
  PART.lastIndex = 0;
  for (let part = PART.exec(text); part !== null; part = PART.exec(text)) {
    const unit = findUnit(part[2]);
    if (unit?.dimension !== "time") return misreadPart(text, part[2], part[1]);
    if (unit.factor >= last) return { ok: false, found: text, expected };
    last = unit.factor;
    total += Number(part[1]) * unit.factor * SECOND;
    end = PART.lastIndex;
  }
  if (end === 0 || text.slice(end).trim() !== "" || total > LONGEST) {
    return { ok: false, found: text, expected };
  }
  return { ok: true, value: Math.round(total) };
}

function misreadPart(text: string, unit: string, number: string): Misread {
  const nearest = nearestUnit(unit, "time");
  const expected = `a time in ${unitNames("time")}`;
  if (nearest === undefined) return { ok: false, found: text, expected };
  return { ok: false, found: text, expected, nearest: `${number} ${nearest.name}` };
}

const STEPS: readonly [Micros, string][] = [
  [DAY, "d"],
  [HOUR, "h"],
  [MINUTE, "min"],
  [SECOND, "s"],
  [MILLISECOND, "ms"],
];

/** `2 min 40 s`, `3 s`, `1 d 4 h`: the two largest parts, the rest cut off. */
export function sayDuration(duration: Micros): string {
  const first = STEPS.findIndex(([length]) => duration >= length);
  if (first < 0) return "0 s";
  const [length, name] = STEPS[first];
  const said = [`${Math.floor(duration / length)} ${name}`];
  const next = STEPS[first + 1];
  if (next !== undefined && length > SECOND) {
    const rest = Math.floor((duration % length) / next[0]);
    if (rest > 0) said.push(`${rest} ${next[1]}`);
  }
  return said.join(" ");
}
