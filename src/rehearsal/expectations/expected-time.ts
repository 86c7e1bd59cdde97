import { HOUR, isoTime, type Micros, MINUTE, parseIsoTime, SECOND } from "../../ground/time.ts";
import { parseDuration } from "../../units/duration.ts";
import { type ClockSetting, runTimeOf } from "../run-time.ts";

/** An instant as an expectation names it. */
export type ExpectedTime =
  | { readonly kind: "absolute"; readonly time: Micros }
  | { readonly kind: "since-start"; readonly offset: Micros }
  | { readonly kind: "since-mark"; readonly mark: string; readonly offset: Micros };

/** What the instants of one recording count from, in run time. */
export interface TimeBase {
  /** Its first frame. */
  readonly begins: Micros;
  /** Marks that were reached. */
  readonly marks: ReadonlyMap<string, Micros>;
  readonly clockSettings: readonly ClockSetting[];
}

export const TIME_FORMS =
  "a time, such as 2026-06-14T10:12:03Z, 0:14:00 since the recording's start, or MARK + 310 s";

const SINCE_START = /^(\d+):([0-5]\d):([0-5]\d)(?:\.(\d{1,6}))?$/;
const SINCE_MARK = /^([a-z0-9]+(?:-[a-z0-9]+)*)(?:\s*([+-])\s*(\S.*))?$/;

/** Undefined where the text is no time. */
export function parseExpectedTime(text: string): ExpectedTime | undefined {
  const written = text.trim();
  const time = parseIsoTime(written);
  if (time !== undefined) return { kind: "absolute", time };
  const clock = SINCE_START.exec(written);
  if (clock !== null) {
    const [, hours, minutes, seconds, part = ""] = clock;
    const offset = Number(hours) * HOUR + Number(minutes) * MINUTE + Number(seconds) * SECOND +
      Number(part.padEnd(6, "0"));
    return { kind: "since-start", offset };
  }
  const marked = SINCE_MARK.exec(written);
  if (marked === null || /^\d+$/.test(marked[1])) return undefined;
  const [, mark, sign, length] = marked;
  if (length === undefined) return { kind: "since-mark", mark, offset: 0 };
  const read = parseDuration(length);
  if (!read.ok) return undefined;
  return { kind: "since-mark", mark, offset: sign === "-" ? -read.value : read.value };
}

/** The instant in run time; undefined where its mark was not reached. */
export function instantOf(time: ExpectedTime, base: TimeBase): Micros | undefined {
  const { begins, marks, clockSettings } = base;
  switch (time.kind) {
    case "absolute":
      return runTimeOf(time.time, clockSettings, begins);
    case "since-start":
      return begins + time.offset;
    case "since-mark": {
      const mark = marks.get(time.mark);
      return mark === undefined ? undefined : mark + time.offset;
    }
  }
}

/** True where two times can be compared before the recording was read and the first is the later. */
export function isKnownToBeLater(first: ExpectedTime, second: ExpectedTime): boolean {
  if (first.kind === "absolute") return second.kind === "absolute" && first.time > second.time;
  if (second.kind === "absolute" || first.kind !== second.kind) return false;
  const oneMark = first.kind !== "since-mark" || second.kind !== "since-mark" ||
    first.mark === second.mark;
  return oneMark && first.offset > second.offset;
}

/**
 * `0:05:10.2` since a start, cut to thousandths; zeros at its end are left out.
 * @param least decimals that are always shown
 */
export function sayOffset(offset: Micros, least = 0): string {
  const length = Math.max(0, offset);
  const two = (number: number) => String(number).padStart(2, "0");
  const hours = Math.floor(length / HOUR);
  const minutes = Math.floor(length / MINUTE) % 60;
  const seconds = Math.floor(length / SECOND) % 60;
  return `${hours}:${two(minutes)}:${two(seconds)}${thousandths(length, least)}`;
}

/** `10:04`, `10:06:40`, `10:06:40.5` by the clock in UTC; the day only where it is not the given one. */
export function sayClock(time: Micros, day: Micros): string {
  const text = isoTime(time, 3);
  const date = text.slice(0, 10);
  const part = thousandths(time, 0);
  const seconds = text.slice(17, 19);
  const clock = `${text.slice(11, 16)}${
    seconds === "00" && part === "" ? "" : `:${seconds}${part}`
  }`;
  return date === isoTime(day, 3).slice(0, 10) ? clock : `${date} ${clock}`;
}

function thousandths(time: Micros, least: number): string {
  const digits = String(Math.floor((time % SECOND) / 1000)).padStart(3, "0");
  const shown = digits.replace(/0+$/, "").padEnd(least, "0");
  return shown === "" ? "" : `.${shown}`;
}
