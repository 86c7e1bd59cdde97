import { roundEnds } from "./line-plot.ts";

/** One signal over the last while, with its limit. */
export interface RecentPicture {
  /** Rising; in any unit. */
  readonly times: readonly number[];
  /** Beside each time; NaN is a gap, never zero. */
  readonly values: readonly number[];
  readonly limit: number | null;
  /** Between two ticks at the foot, such as a minute. */
  readonly tick: number;
}

const WIDTH = 480;
const HEIGHT = 160;
const MARGIN = 12;

/**
 * The picture as SVG that stands alone, drawn with lines only: letters would look different on every
 * computer, or be missing. Numbers belong in the text beside it.
 * @returns undefined where nothing is known
 */
export function drawRecentPicture(picture: RecentPicture): string | undefined {
  const { times, values, limit, tick } = picture;
  if (!values.some((value) => Number.isFinite(value))) return undefined;
  const { bottom, top } = roundEnds(limit === null ? values : [...values, limit]);
  const [from, to] = [times[0], times[times.length - 1]];
  const x = (time: number) =>
    coordinate(MARGIN + (time - from) / (to - from || 1) * (WIDTH - 2 * MARGIN));
  const y = (value: number) =>
    coordinate(MARGIN + (top - value) / (top - bottom) * (HEIGHT - 2 * MARGIN));
  const foot = HEIGHT - MARGIN;
  const across = (height: string) => `M${MARGIN} ${height}H${WIDTH - MARGIN}`;
  const ticks: string[] = [];
  for (let time = to; time >= from; time -= tick) ticks.push(`M${x(time)} ${foot}v-6`);
  const limitLine = limit === null
    ? ""
    : `<path d="${across(y(limit))}" stroke="#555" stroke-dasharray="6 4" fill="none"/>`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}" ` +
    `viewBox="0 0 ${WIDTH} ${HEIGHT}"><rect width="100%" height="100%" fill="#fff"/>` +
    `<path d="${across(String(foot))}${ticks.join("")}" stroke="#999" fill="none"/>${limitLine}` +
    `<path d="${course(times, values, x, y)}" stroke="#111" stroke-width="2" ` +
    `stroke-linecap="round" fill="none"/></svg>`;
}

type Axis = (value: number) => string;

/** A value that stands alone between two gaps is a dot. */
function course(times: readonly number[], values: readonly number[], x: Axis, y: Axis): string {
  let path = "";
  let isOpen = false;
  for (const [i, value] of values.entries()) {
    if (Number.isNaN(value)) {
      isOpen = false;
      continue;
    }
    path += isOpen ? `L${x(times[i])} ${y(value)}` : `M${x(times[i])} ${y(value)}h0`;
    isOpen = true;
  }
  return path;
}

function coordinate(value: number): string {
  return String(Number(value.toFixed(1)));
}
