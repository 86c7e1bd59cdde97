import { DAY, type Micros, MINUTE, SECOND } from "../../ground/time.ts";

/**
 * Whether the date and time that a device sends can be believed (a pure state machine). Old receivers
 * fall back 1,024 weeks, and all of them guess before their first fix: a time is believed when it is
 * later than this program and whatever it saved, and has gone on steadily for a minute.
 */
export type ClockBelief =
  | { readonly kind: "none" }
  /** Going on steadily since; `believed` is what was believed before. */
  | (Stated & {
    readonly kind: "settling";
    readonly since: Micros;
    readonly believed: Micros | null;
  })
  | (Stated & { readonly kind: "believed" });

interface Stated {
  /** Who says it. */
  readonly sender: number;
  /** What it says, less steady time. */
  readonly offset: Micros;
  /** Steady time of its last statement. */
  readonly at: Micros;
}

/** One message with a date and a time. */
export interface ClockStatement {
  readonly sender: number;
  readonly stated: Micros;
  /** Steady time. */
  readonly now: Micros;
  /** What the computer's own clock says. */
  readonly wall: Micros;
}

export const NO_BELIEF: ClockBelief = { kind: "none" };

/** 2026-01-01T00:00:00Z: no time that is told to this program lies before it was written. */
export const BUILD_DATE: Micros = 1_767_225_600 * SECOND;

/** A sender that says nothing for this long is forgotten. */
export const CLOCK_QUIET: Micros = 10 * SECOND;

const STEADY_FOR: Micros = MINUTE;
/** Time on the way, and the whole seconds of some senders. */
const JITTER: Micros = 2 * SECOND;
/** The week number of GPS has ten bits (IS-GPS-200). */
const ROLLOVER: Micros = 1024 * 7 * DAY;

/**
 * The belief after a statement.
 * @param notBefore the later of the build date and the last saved time
 */
export function clockAfter(
  belief: ClockBelief,
  statement: ClockStatement,
  notBefore: Micros,
): ClockBelief {
  const { sender, stated, now } = statement;
  const current = belief.kind !== "none" && now - belief.at < CLOCK_QUIET ? belief : undefined;
  // While one sender goes on, others are not asked: two clocks may differ by the leap seconds.
  if (current !== undefined && current.sender !== sender) return belief;
  const before = belief.kind === "none" ? null : believedOffset(belief);
  if (stated < notBefore || isRolledOver(statement, before, notBefore)) {
    return before === null ? NO_BELIEF : belief;
  }
  const said = { sender, offset: stated - now, at: now };
  const isSteady = current !== undefined && Math.abs(said.offset - current.offset) <= JITTER;
  if (!isSteady) return { kind: "settling", ...said, since: now, believed: before };
  if (current.kind === "believed") return { kind: "believed", ...said };
  if (now - current.since >= STEADY_FOR) return { kind: "believed", ...said };
  return { ...current, at: now };
}

/** What is believed to be the time less steady time; null while nothing is. */
export function believedOffset(belief: ClockBelief): Micros | null {
  if (belief.kind === "believed") return belief.offset;
  return belief.kind === "settling" ? belief.believed : null;
}

/** A whole number of rollovers away from what is believed, or from a computer's clock that is set. */
function isRolledOver(
  { stated, now, wall }: ClockStatement,
  believed: Micros | null,
  notBefore: Micros,
): boolean {
  const expected = believed !== null ? now + believed : wall >= notBefore ? wall : undefined;
  if (expected === undefined) return false;
  const times = Math.round((stated - expected) / ROLLOVER);
  return times !== 0 && Math.abs(stated - expected - times * ROLLOVER) <= DAY;
}
