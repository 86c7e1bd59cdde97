/**
 * The report of a rehearsal: one HTML file without links to anywhere. Order: the headline; each run
 * with its strip, its alarms and its rules; what was tried; the alarm system's health.
 */
import type { Rule } from "../../alarms/rules/rule.ts";
import { isoTime } from "../../ground/time.ts";
import type { OwnersUnits } from "../../units/units.ts";
import { sayOffset } from "../expectations/expected-time.ts";
import { AlarmNames } from "../alarm-names.ts";
import type { HealthTable } from "../health/health-lines.ts";
import { type Occurrence, occurrencesOf } from "../occurrences.ts";
import type { RunRecord } from "../run-record.ts";
import { judgedRows, sayLength } from "../run-words.ts";
import { MOST_PLOTS } from "../traces.ts";
import type { Tallies } from "../tuning/tally.ts";
import { alarmFigure } from "./alarm-figure.ts";
import { deedWords } from "./deed-words.ts";
import { htmlTable, htmlText } from "./html-text.ts";
import { REPORT_STYLE } from "./report-style.ts";
import { tripFigure } from "./trip-figure.ts";
import { tuningSection } from "./tuning-section.ts";

export interface ReportedRun {
  readonly record: RunRecord;
  /** Lines about its expectations: the first of each file, then its misses. */
  readonly verdicts: readonly { readonly holds: boolean; readonly lines: readonly string[] }[];
}

export interface ReportGround {
  readonly boat: string;
  readonly rules: readonly Rule[];
  readonly owners: OwnersUnits;
  readonly runs: readonly ReportedRun[];
  readonly tallies: readonly Tallies[];
  /** Null where none was asked for. */
  readonly health: HealthTable | null;
}

export function reportPage(ground: ReportGround): string {
  const { boat, runs } = ground;
  const title = `Rehearsal of ${boat}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${htmlText(title)}</title>
<style>${REPORT_STYLE}</style>
</head>
<body>
<header>
<h1>${htmlText(title)}</h1>
<p>${htmlText(headline(ground))}</p>
${verdictLine(runs)}
</header>
${runs.map((run) => runSection(run, ground)).join("\n")}
${ground.tallies.map(tuningSection).join("\n")}
${ground.health === null ? "" : healthSection(ground.health)}
</body>
</html>
`;
}

function headline({ rules, runs }: ReportGround): string {
  const lasting = runs.reduce((sum, { record }) => sum + record.ends - record.begins, 0);
  const alarms = runs.reduce((sum, { record }) => sum + occurrencesOf(record.changes).length, 0);
  const count = alarms === 0 ? "no alarm" : alarms === 1 ? "one alarm" : `${alarms} alarms`;
  const trips = runs.length === 1 ? "one run" : `${runs.length} runs`;
  const all = rules.length === 1 ? "one rule" : `${rules.length} rules`;
  return `${trips} of ${sayLength(lasting)} in all, ${all}: ${count}.`
    .replace(/^./, (letter) => letter.toUpperCase());
}

function verdictLine(runs: readonly ReportedRun[]): string {
  const verdicts = runs.flatMap((run) => run.verdicts);
  if (verdicts.length === 0) {
    return '<p class="soft">Nothing says what these recordings should bring.</p>';
  }
  const broken = verdicts.filter(({ holds }) => !holds).length;
  const recordings = runs.reduce((sum, { record }) => sum + record.parts.length, 0);
  if (broken === 0 && verdicts.length < recordings) {
    return `<p class="verdict">Of ${recordings} recordings ${verdicts.length} ` +
      `${verdicts.length === 1 ? "says" : "say"} what to expect: that came, and nothing else.</p>`;
  }
  return broken === 0
    ? '<p class="verdict">Everything came as expected, and nothing else.</p>'
    : `<p class="verdict broken">${broken} of ${verdicts.length} recordings did not bring what was ` +
      `expected.</p>`;
}

function runSection({ record, verdicts }: ReportedRun, ground: ReportGround): string {
  const occurrences = occurrencesOf([...record.stood, ...record.changes]);
  const { rules, owners } = ground;
  const heading = record.parts.map(({ title }) => title).join(", ");
  const [day, time] = isoTime(record.begins, 3).split("T");
  const lasting = sayLength(record.ends - record.begins);
  const when = `${day} at ${time.slice(0, "10:00:00".length)} UTC, ${lasting}`;
  const rows = judgedRows(record, { names: new AlarmNames(rules), owners });
  return `<section>
<h2>${htmlText(heading)}</h2>
<p class="soft">${htmlText(when)}</p>
${verdicts.map(verdictMarkup).join("\n")}
${tripFigure(record, occurrences, owners)}
${
    occurrences.length > MOST_PLOTS
      ? `<p class="soft">Of these ${occurrences.length} alarms the first ${MOST_PLOTS} are drawn.</p>`
      : ""
  }
${
    occurrences.length === 0
      ? "<p>No alarms.</p>"
      : occurrences.map((one, i) => alarmArticle(one, i + 1, record, ground)).join("\n")
  }
<h3>Rules that were judged</h3>
${htmlTable(["rule", "raised", "in alarm", "least room"], rows)}
${leftOver(record)}
</section>`;
}

function verdictMarkup({ holds, lines }: ReportedRun["verdicts"][number]): string {
  const [first = "", ...misses] = lines;
  const list = misses.length === 0
    ? ""
    : `<ul class="misses">${
      misses.map((line) => `<li>${htmlText(line.trim())}</li>`).join("")
    }</ul>`;
  return `<p class="verdict${holds ? "" : " broken"}">${htmlText(first)}</p>${list}`;
}

function alarmArticle(
  occurrence: Occurrence,
  number: number,
  record: RunRecord,
  { rules, owners }: ReportGround,
): string {
  const { tag, subject, raised, returned, raising } = occurrence;
  const rule = rules.find((one) => one.tag === tag);
  const when = record.stood.includes(raising)
    ? "stood when the run began"
    : `at ${sayOffset(raised - record.begins)}`;
  const lasted = returned === null
    ? "still there at the end"
    : `there for ${sayLength(returned - raised)}`;
  const doing = record.doing[record.changes.indexOf(raising)] ?? "";
  const deeds = deedWords(occurrence, record.changes, record.begins);
  const plot = record.traces?.plots.find((one) =>
    one.tag === tag && one.subject === subject && one.occurrence === raising.occurrence
  );
  return `<article>
<h3>${number}. ${htmlText(new AlarmNames(rules).name(occurrence))}</h3>
<p><span class="priority">${raising.priority}</span> ${when}, ${lasted}. ${
    htmlText(raising.why)
  }</p>
${doing === "" ? "" : `<p class="soft">Then: ${htmlText(doing)}.</p>`}
${deeds === "" ? "" : `<p class="soft">What was done: ${htmlText(deeds)}.</p>`}
${
    plot === undefined || rule === undefined
      ? ""
      : alarmFigure(plot, occurrence, rule, record.begins, owners)
  }
${rule === undefined || rule.consequence === "" ? "" : `<p>${htmlText(rule.consequence)}</p>`}
</article>`;
}

/** Rules that were never judged, and why. */
function leftOver({ rules }: RunRecord): string {
  const left = rules.filter(({ standing }) =>
    standing === "not-watching" || standing === "no-data"
  );
  const rows = left.map((rule) => [
    rule.subject === "" ? rule.tag : `${rule.tag}, ${rule.subject}`,
    rule.standing === "not-watching" ? "was never watching" : rule.reason,
  ]);
  return rows.length === 0
    ? ""
    : `<h3>Rules that were not judged</h3>\n${htmlTable(["rule", "why"], rows)}`;
}

function healthSection({ heading, rows, frequent }: HealthTable): string {
  return `<section>
<h2>${htmlText(heading)}</h2>
${htmlTable(["measure", "found", "target"], rows)}
${frequent.length === 0 ? "" : "<h3>Most frequent</h3>"}
${htmlTable(["alarm", "times", "share of all"], frequent)}
</section>`;
}
