/** A limit of a signal and the side on which it is wrong. */
export interface Limit {
  readonly at: number;
  readonly side: "low" | "high";
}

/** What the rule of the room left view is drawn from; all numbers in the signal's unit. */
export interface RoomLeftPicture {
  readonly value: number;
  /** At least one. */
  readonly limits: readonly Limit[];
  /** Width of the signal's usual range, above zero. */
  readonly span: number;
}

/** Share of the drawing that lies beyond a limit: enough to see the hatching. */
const BEYOND = 0.18;
const HEIGHT = 26;
const LINE = 17;

/**
 * The room left of one signal as SVG: a plain rule from end to end, a tick at each limit,
 * hatching beyond the first limit on a side, and a heavy stretch from the value's mark to its nearest
 * limit, which is the room left itself. The width is the container's; colours come from the
 * classes `rule`, `tick`, `beyond`, `room`, `mark` (and `passed` on the whole). The hatching is
 * `hatchPattern`, once in the document.
 */
export function drawRoomLeft(picture: RoomLeftPicture): string {
  const scale = scaleOf(picture);
  const at = (value: number) => percent((value - scale.from) / (scale.to - scale.from));
  const { value, limits } = picture;
  const nearest = nearestLimit(picture);
  const lows = limits.filter((limit) => limit.side === "low").map((limit) => limit.at);
  const highs = limits.filter((limit) => limit.side === "high").map((limit) => limit.at);
  const shown = Math.min(Math.max(value, scale.from), scale.to);
  const heavy = [at(Math.min(shown, nearest.at)), at(Math.max(shown, nearest.at))];

  const parts = [`<line class="rule" x1="0%" x2="100%" y1="${LINE}" y2="${LINE}"/>`];
  if (lows.length > 0) parts.push(hatching("0%", at(Math.max(...lows))));
  if (highs.length > 0) parts.push(hatching(at(Math.min(...highs)), "100%"));
  parts.push(
    `<line class="room" x1="${heavy[0]}" x2="${heavy[1]}" y1="${LINE}" y2="${LINE}"/>`,
  );
  for (const limit of limits) {
    parts.push(
      `<line class="tick" x1="${at(limit.at)}" x2="${at(limit.at)}" y1="${LINE - 7}" y2="${
        LINE + 7
      }"/>`,
    );
  }
  parts.push(markAt(at(shown), value === shown ? 0 : Math.sign(value - shown)));
  const passed = roomOf(value, nearest) < 0 ? " passed" : "";
  return `<svg class="room-left${passed}" width="100%" height="${HEIGHT}" aria-hidden="true" ` +
    `focusable="false">${parts.join("")}</svg>`;
}

/** The hatching, to be put once into a document that holds drawings of room left. */
export const hatchPattern =
  `<svg width="0" height="0" class="definitions" aria-hidden="true" focusable="false"><defs>` +
  `<pattern id="hatch" width="5" height="5" patternUnits="userSpaceOnUse" ` +
  `patternTransform="rotate(45)"><line class="hatch" x1="0" x2="0" y1="0" y2="5"/></pattern>` +
  `</defs></svg>`;

/** Distance to a limit in the signal's unit; negative beyond it. */
function roomOf(value: number, limit: Limit): number {
  return limit.side === "low" ? value - limit.at : limit.at - value;
}

function nearestLimit({ value, limits }: RoomLeftPicture): Limit {
  return limits.reduce((least, limit) =>
    roomOf(value, limit) < roomOf(value, least) ? limit : least
  );
}

/**
 * The ends of the rule: one usual range from the limits on the side where there is room, and a
 * little beyond them, so that rules with like limits line up under each other whatever their units.
 */
function scaleOf({ limits, span }: RoomLeftPicture): { from: number; to: number } {
  const lows = limits.filter((limit) => limit.side === "low").map((limit) => limit.at);
  const highs = limits.filter((limit) => limit.side === "high").map((limit) => limit.at);
  const inner = {
    from: lows.length > 0 ? Math.min(...lows) : Math.min(...highs) - span,
    to: highs.length > 0 ? Math.max(...highs) : Math.max(...lows) + span,
  };
  const width = Math.max(inner.to - inner.from, span * 0.05);
  const ends = (lows.length > 0 ? 1 : 0) + (highs.length > 0 ? 1 : 0);
  const beyond = width * BEYOND / (1 - ends * BEYOND);
  return {
    from: lows.length > 0 ? inner.from - beyond : inner.from,
    to: highs.length > 0 ? inner.from + width + beyond : inner.from + width,
  };
}

function hatching(from: string, to: string): string {
  return `<rect class="beyond" x="${from}" y="${LINE - 5}" height="10" ` +
    `width="${percent((parseFloat(to) - parseFloat(from)) / 100)}" fill="url(#hatch)"/>`;
}

/** The value's mark; where the value lies off the drawing (−1, +1) it points that way. */
function markAt(x: string, off: number): string {
  const outline = off === 0
    ? "M0 -2L5 -12H-5Z"
    : off > 0
    ? "M0 -7L-10 -12V-2Z"
    : "M0 -7L10 -12V-2Z";
  return `<svg x="${x}" y="${LINE}" width="1" height="1" overflow="visible">` +
    `<path class="mark" d="${outline}"/></svg>`;
}

function percent(share: number): string {
  return `${Number((share * 100).toFixed(1))}%`;
}
