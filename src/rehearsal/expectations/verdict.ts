import type { Place, Problem } from "../../ground/problem.ts";
import type { Micros } from "../../ground/time.ts";
import type { Occurrence } from "../occurrences.ts";
import type { Expectations, ExpectedAlarm, Mark, Window } from "./expectations.ts";
import { instantOf, type TimeBase } from "./expected-time.ts";
import { pair } from "./pairing.ts";
import { backwards } from "./read-expectations.ts";

/** What was expected of one recording, held against what it brought. */
export interface Verdict {
  /** Lines that found their occurrence. */
  readonly met: readonly { readonly line: ExpectedAlarm; readonly occurrence: Occurrence }[];
  /** In the order of the file, then of time. */
  readonly misses: readonly Miss[];
  /** Windows that end before they begin, now that their marks are known. */
  readonly problems: readonly Problem[];
}

/** A span of time with both ends. */
export interface Span {
  readonly from: Micros;
  readonly to: Micros;
}

/** One thing that does not hold. */
export type Miss =
  | {
    readonly kind: "mark-not-reached";
    readonly mark: Mark;
    /** Lines that count from it. */
    readonly lines: number;
  }
  /** Raised, but too early or too late. */
  | {
    readonly kind: "raised-outside";
    readonly line: ExpectedAlarm;
    readonly due: Span;
    readonly occurrence: Occurrence;
  }
  /** Raised in time; its condition was over too early, too late or not at all. */
  | {
    readonly kind: "returned-outside";
    readonly line: ExpectedAlarm;
    readonly due: Span;
    readonly occurrence: Occurrence;
  }
  | {
    readonly kind: "not-raised";
    readonly line: ExpectedAlarm;
    readonly due: Span;
    /** The same alarm in time, but of another subject or held by another line; null: none. */
    readonly instead: Occurrence | null;
    /** The same alarm at other times, each held by another line. */
    readonly taken: readonly Occurrence[];
  }
  | { readonly kind: "forbidden"; readonly place: Place; readonly occurrence: Occurrence }
  | { readonly kind: "not-expected"; readonly occurrence: Occurrence };

/** An alarm that rang and should not have. */
export function isFalseAlarm({ kind }: Miss): boolean {
  return kind === "raised-outside" || kind === "forbidden" || kind === "not-expected";
}

/** @param occurrences those raised in this recording */
export function verdictOf(
  expectations: Expectations,
  occurrences: readonly Occurrence[],
  base: TimeBase,
): Verdict {
  const { marks, alarms, never, anythingElse } = expectations;
  const problems: Problem[] = [];
  const span = (window: Window): Span | undefined => {
    const [from, to] = [instantOf(window.from, base), instantOf(window.to, base)];
    if (from === undefined || to === undefined) return undefined;
    if (from > to) problems.push(backwards(window.place));
    return { from, to };
  };
  const lines = alarms.flatMap((line): Line[] => {
    const raised = span(line.raised);
    const returned = line.returned === null ? null : span(line.returned);
    return raised === undefined || returned === undefined ? [] : [{ line, raised, returned }];
  });

  const rightOf = pair(
    lines.length,
    occurrences.length,
    (left, right) => fits(lines[left], occurrences[right]),
  );
  const met = lines.flatMap(({ line }, i) =>
    rightOf[i] < 0 ? [] : [{ line, occurrence: occurrences[rightOf[i]] }]
  );
  const free = new Set(occurrences.keys());
  for (const right of rightOf) free.delete(right);

  const misses = lines.flatMap((line, i): Miss[] => {
    if (rightOf[i] >= 0) return [];
    const near = nearest(line, occurrences, free);
    if (near !== undefined) free.delete(near);
    return [missOf(line, near === undefined ? undefined : occurrences[near], occurrences)];
  });
  const forbidden = new Map(never.map(({ tag, place }) => [tag, place]));
  const others = [...free].flatMap((i): Miss[] => {
    const occurrence = occurrences[i];
    const place = forbidden.get(occurrence.tag);
    if (place !== undefined) return [{ kind: "forbidden", place, occurrence }];
    return anythingElse ? [] : [{ kind: "not-expected", occurrence }];
  });
  return { met, misses: [...unreached(marks, alarms, base), ...misses, ...others], problems };
}

interface Line {
  readonly line: ExpectedAlarm;
  readonly raised: Span;
  readonly returned: Span | null;
}

function isAbout({ line }: Line, { tag, subject }: Occurrence): boolean {
  return line.tag === tag && line.subject === subject;
}

function fits(line: Line, occurrence: Occurrence): boolean {
  const { raised, returned } = line;
  return isAbout(line, occurrence) && isInside(occurrence.raised, raised) &&
    (returned === null || isInside(occurrence.returned, returned));
}

/** Both ends belong to the span. */
function isInside(time: Micros | null, { from, to }: Span): boolean {
  return time !== null && time >= from && time <= to;
}

/** The free raising of the same alarm that lies nearest to what was expected. */
function nearest(
  line: Line,
  occurrences: readonly Occurrence[],
  free: ReadonlySet<number>,
): number | undefined {
  return [...free].filter((i) => isAbout(line, occurrences[i]))
    .toSorted((a, b) => farness(occurrences[a], line) - farness(occurrences[b], line))[0];
}

function farness({ raised }: Occurrence, line: Line): Micros {
  return Math.abs(outsideBy(raised, line.raised));
}

/** How far a time lies outside a span: negative before it, 0 inside. */
export function outsideBy(time: Micros, { from, to }: Span): Micros {
  return time < from ? time - from : Math.max(0, time - to);
}

function missOf(
  { line, raised, returned }: Line,
  near: Occurrence | undefined,
  occurrences: readonly Occurrence[],
): Miss {
  if (near === undefined) {
    const inTime = occurrences.filter((one) =>
      one.tag === line.tag && isInside(one.raised, raised)
    );
    const same = inTime.find(({ subject }) => subject === line.subject);
    const taken = occurrences.filter(({ tag, subject }) =>
      tag === line.tag && subject === line.subject
    );
    return { kind: "not-raised", line, due: raised, instead: same ?? inTime[0] ?? null, taken };
  }
  if (returned !== null && isInside(near.raised, raised)) {
    return { kind: "returned-outside", line, due: returned, occurrence: near };
  }
  return { kind: "raised-outside", line, due: raised, occurrence: near };
}

function unreached(
  marks: readonly Mark[],
  alarms: readonly ExpectedAlarm[],
  base: TimeBase,
): Miss[] {
  return marks.filter(({ name }) => !base.marks.has(name)).map((mark) => ({
    kind: "mark-not-reached",
    mark,
    lines:
      alarms.filter(({ raised, returned }) =>
        [raised.from, raised.to, returned?.from, returned?.to]
          .some((time) => time?.kind === "since-mark" && time.mark === mark.name)
      ).length,
  }));
}
