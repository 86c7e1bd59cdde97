import { drawLinePlot, type LinePlot } from "../../drawing/line-plot.ts";
import { signalWords } from "../../alarms/signal-words.ts";
import type { Micros } from "../../ground/time.ts";
import type { OwnersUnits } from "../../units/units.ts";
import { sayOffset } from "../expectations/expected-time.ts";
import type { Occurrence } from "../occurrences.ts";
import type { RunRecord } from "../run-record.ts";
import { axisOf } from "./axis.ts";
import { capital, htmlText } from "./html-text.ts";

/** The whole trip as one strip: engine speeds, and every alarm on it by its number. */
export function tripFigure(
  run: Pick<RunRecord, "begins" | "ends" | "traces">,
  occurrences: readonly Occurrence[],
  owners: OwnersUnits,
): string {
  const { begins, ends, traces } = run;
  if (traces === null || ends <= begins) return "";
  const { times } = traces.overview;
  // The boat file may name an engine that nothing was heard of.
  const speeds = traces.overview.speeds.filter(({ values }) => !values.every(Number.isNaN));
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
    bands: spansPresent(occurrences, ends),
    instants: occurrences.map(({ raised }) => ({ at: raised, class: "raised" })),
    beyond: null,
  }, `The trip with ${occurrences.length} alarms`);
  const numbers = numbersAt(occurrences.map(({ raised }) => (raised - begins) / (ends - begins)))
    .map(({ at, text }) => `<span style="left:${(at * 100).toFixed(2)}%">${text}</span>`).join("");
  const names = speeds.map(({ name }, i) => `${signalWords(name)}${i === 0 ? "" : " (dashed)"}`);
  const what = names.length === 0 ? "No engine was heard." : `${capital(names.join(", "))}.`;
  const alarms = occurrences.length === 0 ? "" : " Shaded: an alarm was present.";
  return `<figure><div class="frame"><div class="numbers">${numbers}</div>` +
    `<div class="scale"><span>${htmlText(axis.topLabel)}</span><span>${
      htmlText(axis.bottomLabel)
    }</span></div><div class="plot low">${svg}</div>${spanLabels(begins, ends, begins)}</div>` +
    `<figcaption>${htmlText(what + alarms)}</figcaption></figure>`;
}

/** When any alarm was present: shades that overlap would grow as dark as the lines. */
function spansPresent(occurrences: readonly Occurrence[], ends: Micros): LinePlot["bands"] {
  const spans: { from: Micros; to: Micros; class: string }[] = [];
  for (const { raised, returned } of occurrences) {
    const last = spans.at(-1);
    const to = returned ?? ends;
    if (last !== undefined && raised <= last.to) last.to = Math.max(last.to, to);
    else spans.push({ from: raised, to, class: "present" });
  }
  return spans;
}

/** Share of the strip's width on a phone that a label such as `11–13` needs. */
const LABEL = 0.09;

/**
 * The numbers of alarms over a strip, those that would lie on each other as one: `1, 2` or `3–6`.
 * @param places by alarm, in order: the share of the width at which it came
 */
export function numbersAt(places: readonly number[]): { at: number; text: string }[] {
  const labels: { at: number; text: string }[] = [];
  for (let first = 0; first < places.length;) {
    let last = first;
    while (last + 1 < places.length && places[last + 1] - places[first] < LABEL) last++;
    const text = last === first
      ? `${first + 1}`
      : `${first + 1}${last === first + 1 ? ", " : "–"}${last + 1}`;
    labels.push({ at: (places[first] + places[last]) / 2, text });
    first = last + 1;
  }
  return labels;
}

/** Times under a plot, since the run began. */
export function spanLabels(from: number, to: number, begins: number): string {
  const whole = (time: number) => sayOffset(Math.round((time - begins) / 1e6) * 1e6);
  const labels = [from, (from + to) / 2, to].map((time) => `<span>${whole(time)}</span>`);
  return `<div class="span">${labels.join("")}</div>`;
}
