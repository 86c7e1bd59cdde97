/** Lines over time, drawn to fill whatever space there is; text stands beside, not in the drawing. */
export interface LinePlot {
  readonly from: number;
  readonly to: number;
  /** What lies at the bottom and at the top. */
  readonly bottom: number;
  readonly top: number;
  /** Beside each value; rising. */
  readonly times: readonly number[];
  readonly lines: readonly PlotLine[];
  /** Stretches that are shaded from top to bottom, by class. */
  readonly bands: readonly { readonly from: number; readonly to: number; readonly class: string }[];
  /** Instants, as upright lines, by class. */
  readonly instants: readonly { readonly at: number; readonly class: string }[];
  /** Shaded from one time to another where the first line lies beyond the second, on this side. */
  readonly beyond: {
    readonly side: "low" | "high";
    readonly from: number;
    readonly to: number;
  } | null;
}

export interface PlotLine {
  readonly class: string;
  /** NaN is a gap, never zero. */
  readonly values: readonly number[];
}

const WIDTH = 1000;
const HEIGHT = 100;

/**
 * The plot as SVG, stretched to the width and height of its container with lines of even thickness.
 * Colours come from the classes of lines, bands and instants, and `beyond`.
 */
export function drawLinePlot(plot: LinePlot, description: string): string {
  const x = (time: number) => coordinate((time - plot.from) / (plot.to - plot.from) * WIDTH);
  const y = (value: number) => coordinate((plot.top - value) / (plot.top - plot.bottom) * HEIGHT);
  const parts = [
    ...plot.bands.map(({ from, to, class: name }) =>
      `<rect class="${name}" x="${x(from)}" y="0" width="${
        coordinate(Number(x(to)) - Number(x(from)))
      }" height="${HEIGHT}"/>`
    ),
    ...beyondShapes(plot, x, y),
    ...plot.lines.map((line) =>
      `<path class="${line.class}" d="${pathOf(plot.times, line, x, y)}"/>`
    ),
    ...plot.instants.map(({ at, class: name }) =>
      `<path class="${name}" d="M${x(at)} 0V${HEIGHT}"/>`
    ),
  ];
  return `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" preserveAspectRatio="none" role="img" ` +
    `aria-label="${escaped(description)}">${parts.join("")}</svg>`;
}

type Axis = (value: number) => string;

/** A line with a gap wherever a value is not known. */
function pathOf(times: readonly number[], { values }: PlotLine, x: Axis, y: Axis): string {
  let path = "";
  let isOpen = false;
  for (const [i, value] of values.entries()) {
    if (Number.isNaN(value)) {
      isOpen = false;
      continue;
    }
    path += `${isOpen ? "L" : "M"}${x(times[i])} ${y(value)}`;
    isOpen = true;
  }
  return path;
}

/** The space between value and limit where the value is on the wrong side. */
function beyondShapes({ times, lines, beyond }: LinePlot, x: Axis, y: Axis): string[] {
  if (beyond === null || lines.length < 2) return [];
  const [{ values }, { values: limits }] = lines;
  const isBeyond = (i: number) =>
    times[i] >= beyond.from && times[i] <= beyond.to &&
    (beyond.side === "low" ? values[i] < limits[i] : values[i] > limits[i]);
  const shapes: string[] = [];
  for (let from = 0; from < values.length; from++) {
    if (!isBeyond(from)) continue;
    let to = from;
    while (to + 1 < values.length && isBeyond(to + 1)) to++;
    const there = times.slice(from, to + 1).map((time, i) => `${x(time)} ${y(values[from + i])}`);
    const back = times.slice(from, to + 1).map((time, i) => `${x(time)} ${y(limits[from + i])}`)
      .reverse();
    shapes.push(`<path class="beyond" d="M${[...there, ...back].join("L")}Z"/>`);
    from = to;
  }
  return shapes;
}

/** Ends of an axis that hold all values, on round numbers. */
export function roundEnds(values: readonly number[]): { bottom: number; top: number } {
  const known = values.filter((value) => Number.isFinite(value));
  if (known.length === 0) return { bottom: 0, top: 1 };
  const [least, most] = [Math.min(...known), Math.max(...known)];
  const step = roundStep((most - least || Math.abs(most) || 1) / 4);
  const bottom = Math.floor(least / step) * step;
  return { bottom, top: Math.max(Math.ceil(most / step) * step, bottom + step) };
}

/** 1, 2 or 5 times a power of ten, not below the given size. */
function roundStep(size: number): number {
  const power = 10 ** Math.floor(Math.log10(size));
  const step = [1, 2, 5, 10].find((times) => times * power >= size * (1 - 1e-9)) ?? 10;
  return step * power;
}

function coordinate(value: number): string {
  return String(Number(value.toFixed(1)));
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
}
