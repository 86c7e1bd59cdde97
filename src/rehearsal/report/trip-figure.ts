import { drawLinePlot } from "../../drawing/line-plot.ts";
import { signalWords } from "../../alarms/signal-words.ts";
import type { OwnersUnits } from "../../units/units.ts";
import { sayOffset } from "../expectations/expected-time.ts";
import type { Occurrence } from "../occurrences.ts";
import type { RunRecord } from "../run-record.ts";
import { axisOf } from "./axis.ts";
import { capital, htmlText } from "./html-text.ts";

/** The whole trip as one strip: engine speeds, and every alarm on it by its number. */
export function tripFigure(
  run: RunRecord,
  occurrences: readonly Occurrence[],
  owners: OwnersUnits,
): string {
  const { begins, ends, traces } = run;
  if (traces === null || ends <= begins) return "";
  const { times, speeds } = traces.overview;
  const axis = axisOf(speeds.flatMap(({ values }) => values), "1/min", owners, [0, 1000]);
  const svg = drawLinePlot({
    from: begins,
    to: ends,
    bottom: axis.bottom,
    top: axis.top,
    times,
    lines: speeds.map(({ values }, i) => ({
      class: `speed-${i % 4}`,
      values: values.map(axis.place),
    })),
    bands: occurrences.map(({ raised, returned }) => ({
      from: raised,
      to: returned ?? ends,
      class: "present",
    })),
    instants: occurrences.map(({ raised }) => ({ at: raised, class: "raised" })),
    beyond: null,
  }, `The trip with ${occurrences.length} alarms`);
  const numbers = occurrences.map(({ raised }, i) =>
    `<span style="left:${((raised - begins) / (ends - begins) * 100).toFixed(2)}%">${i + 1}</span>`
  ).join("");
  const names = speeds.map(({ name }, i) => `${signalWords(name)}${i === 0 ? "" : " (dashed)"}`);
  const what = names.length === 0 ? "No engine was heard." : `${capital(names.join(", "))}.`;
  const alarms = occurrences.length === 0 ? "" : " Shaded: an alarm was present.";
  return `<figure><div class="frame"><div class="numbers">${numbers}</div>` +
    `<div class="scale"><span>${htmlText(axis.topLabel)}</span><span>${
      htmlText(axis.bottomLabel)
    }</span></div><div class="plot low">${svg}</div>${spanLabels(begins, ends, begins)}</div>` +
    `<figcaption>${htmlText(what + alarms)}</figcaption></figure>`;
}

/** Times under a plot, since the run began. */
export function spanLabels(from: number, to: number, begins: number): string {
  const whole = (time: number) => sayOffset(Math.round((time - begins) / 1e6) * 1e6);
  const labels = [from, (from + to) / 2, to].map((time) => `<span>${whole(time)}</span>`);
  return `<div class="span">${labels.join("")}</div>`;
}
