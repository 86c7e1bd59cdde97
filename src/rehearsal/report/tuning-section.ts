import { drawLinePlot } from "../../drawing/line-plot.ts";
import { recommend } from "../tuning/recommend.ts";
import type { Tallies } from "../tuning/tally.ts";
import { adviceWords, tuningRows } from "../tuning/tuning-lines.ts";
import { htmlTable, htmlText } from "./html-text.ts";

/** A sweep as a picture, a sentence and a table. */
export function tuningSection(tallies: Tallies): string {
  const { heads, rows } = tuningRows(tallies);
  return `<section>
<h2>Tried: ${htmlText(tallies.sweep.text)}</h2>
<p>${htmlText(adviceWords(tallies))}</p>
${picture(tallies)}
${htmlTable(heads, rows)}
</section>`;
}

/** False and missed alarms along the values; grey where neither is. */
function picture({ sweep, results, judged, expected }: Tallies): string {
  if (judged === 0) return "";
  const { variants } = sweep;
  const last = variants.length - 1;
  const top = Math.max(1, ...results.flatMap(({ wrong, missed }) => [wrong, missed]));
  const advice = recommend(results);
  const good = expected > 0 && advice.kind !== "none" ? [advice] : [];
  const svg = drawLinePlot({
    from: 0,
    to: last,
    bottom: 0,
    // A line at the very top would lie under the frame.
    top: top * 1.1,
    times: variants.map((_, i) => i),
    lines: [
      { class: "value", values: results.map(({ wrong }) => wrong) },
      { class: "missed", values: results.map(({ missed }) => missed) },
    ],
    bands: good.map(({ from, to }) => ({ from, to, class: "good" })),
    instants: [],
    beyond: null,
  }, "False and missed alarms by value");
  // Of an even count no value lies in the middle of the picture.
  const marked = last % 2 === 0 ? [0, last / 2, last] : [0, last];
  const labels = marked.map((i) => variants[i].label).map((label) =>
    `<span>${htmlText(label)}</span>`
  ).join("");
  return `<figure><div class="frame"><div class="scale"><span>${top}</span><span>0</span></div>` +
    `<div class="plot low">${svg}</div><div class="span">${labels}</div></div>` +
    `<figcaption>False alarms (line) and missed ones (red, dashed).${
      good.some(({ from, to }) => from < to) ? " Grey: neither." : ""
    }</figcaption></figure>`;
}
