import type { Rule } from "../../alarms/rules/rule.ts";
import { signalWords } from "../../alarms/signal-words.ts";
import { drawLinePlot } from "../../drawing/line-plot.ts";
import type { OwnersUnits } from "../../units/units.ts";
import type { Occurrence } from "../occurrences.ts";
import { sayDelay } from "../say-delay.ts";
import type { AlarmPlot } from "../traces.ts";
import { type Axis, axisOf, axisOfWords } from "./axis.ts";
import { figureWords } from "./figure-words.ts";
import { capital, htmlText } from "./html-text.ts";
import { spanLabels } from "./trip-figure.ts";

type Frame = (axis: Axis, picture: string, size: "" | " low") => string;

/** The signals that made one alarm, with its limit and its delays. */
export function alarmFigure(
  plot: AlarmPlot,
  occurrence: Occurrence,
  rule: Rule,
  begins: number,
  owners: OwnersUnits,
): string {
  const { times, values, limits, unit, along, words } = plot;
  const [from, to] = [times[0], times.at(-1)];
  if (from === undefined || to === undefined || to <= from || values.every(Number.isNaN)) return "";
  const { raised, returned, raising } = occurrence;
  const bands = [{ from: Math.max(from, raised - rule.onDelay), to: raised, class: "delay" }];
  const instants = [{ at: raised, class: "raised" }];
  if (returned !== null && returned <= to) {
    bands.push({ from: Math.max(from, returned - rule.offDelay), to: returned, class: "delay" });
    instants.push({ at: returned, class: "returned" });
  }
  const name = signalWords(raising.signal);
  // What a not-heard test compares is its age, in seconds.
  const isAge = rule.test.kind === "not-heard";
  const axis = words === null
    ? axisOf([...values, ...limits], isAge ? "s" : unit, isAge ? {} : owners)
    : axisOfWords(values, words);
  const svg = drawLinePlot({
    from,
    to,
    bottom: axis.bottom,
    top: axis.top,
    times,
    lines: [
      { class: "value", values: values.map(axis.place) },
      { class: "limit", values: limits.map(axis.place) },
    ],
    bands,
    instants,
    beyond: {
      side: rule.test.kind === "low" ? "low" : "high",
      from: raised - rule.onDelay,
      to: returned ?? to,
    },
  }, words === null ? `${figureWords(rule.test, name)} and its limit` : `what ${name} read`);
  const frame: Frame = ({ topLabel, bottomLabel }, picture, size) =>
    `<div class="frame"><div class="scale"><span>${htmlText(topLabel)}</span><span>${
      htmlText(bottomLabel)
    }</span></div><div class="plot${size}">${picture}</div>${spanLabels(from, to, begins)}</div>`;
  const what = figureWords(rule.test, name);
  const drawn = words === null
    ? `${capital(what)} (line) and its limit (dashed).`
    : `What ${name} read: ${wordsSeen(values, words)}.`;
  const caption = `${drawn} ${delayWords(rule)}`;
  return `<figure>${frame(axis, svg, "")}${
    along === null ? "" : alongFrame(along, from, to, times, owners, frame)
  }<figcaption>${htmlText(caption)}${
    along === null
      ? ""
      : htmlText(` Below: ${signalWords(along.name)}, along which the limit runs.`)
  }</figcaption></figure>`;
}

function alongFrame(
  along: NonNullable<AlarmPlot["along"]>,
  from: number,
  to: number,
  times: readonly number[],
  owners: OwnersUnits,
  frame: Frame,
): string {
  const axis = axisOf(along.values, along.unit, owners, [0]);
  const svg = drawLinePlot({
    from,
    to,
    bottom: axis.bottom,
    top: axis.top,
    times,
    lines: [{ class: "along", values: along.values.map(axis.place) }],
    bands: [],
    instants: [],
    beyond: null,
  }, signalWords(along.name));
  return frame(axis, svg, " low");
}

/** From the lowest code to the highest, as in the drawing. */
function wordsSeen(values: readonly number[], words: ReadonlyMap<number, string>): string {
  const codes = [...new Set(values.filter((value) => !Number.isNaN(value)))].toSorted((a, b) =>
    a - b
  );
  return codes.map((code) => (words.get(code) ?? String(code)).replaceAll("-", " ")).join(", ");
}

function delayWords({ onDelay, offDelay }: Rule): string {
  const said = [
    ...(onDelay > 0 ? [`the on-delay of ${sayDelay(onDelay)}`] : []),
    ...(offDelay > 0 ? [`the off-delay of ${sayDelay(offDelay)}`] : []),
  ];
  return said.length === 0 ? "" : `Grey: ${said.join(" and ")}.`;
}
