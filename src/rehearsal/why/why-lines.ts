import type { Rule } from "../../alarms/rules/rule.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { OwnersUnits } from "../../units/units.ts";
import { sayOffset } from "../expectations/expected-time.ts";
import { type Occurrence, occurrencesOf } from "../occurrences.ts";
import type { RunRecord } from "../run-record.ts";
import { keptBy } from "./kept-by.ts";
import { type Probed, probed, probedWhere, type Stretch } from "./probes.ts";
import { whyNot } from "./why-words.ts";

export interface WhySetup {
  /** All rules of the rehearsal. */
  readonly rules: readonly Rule[];
  readonly owners: OwnersUnits;
}

/** What a line of expectations looked for and did not find. */
export interface Sought {
  readonly due: Stretch;
  /** When the same alarm came for other lines. */
  readonly taken: readonly Micros[];
}

/**
 * Why one rule's alarm did not come for one subject; undefined where the run knew no such subject.
 * @param say how a time is written
 * @param sought where it came at other times, or was due at one
 */
export function whyNotIn(
  run: RunRecord,
  rule: Rule,
  subject: string,
  { rules, owners }: WhySetup,
  say: (time: Micros) => string,
  sought?: Sought,
): string | undefined {
  const figures = run.rules.find((one) => one.tag === rule.tag && one.subject === subject);
  if (figures === undefined) return undefined;
  const before = sought && stoodThrough(run, figures, sought.due);
  if (before !== undefined) {
    return run.stood.includes(before.raising)
      ? "It stood already when the run began."
      : `It stood already: it came at ${say(before.raised)}.`;
  }
  const missed = notCame(run, figures);
  const then = sought === undefined ? missed : around(sought.due, rule, missed);
  if (then.past.length === 0 && sought !== undefined && sought.taken.length > 0) {
    const lines = sought.taken.length === 1 ? "another line has" : "other lines have";
    return `It came only at ${sought.taken.map(say).join(", ")}, which ${lines}.`;
  }
  const { least } = figures;
  // Room is looked at once a second; parts of one say nothing.
  const at = least === null ? 0 : least.at - (least.at - run.begins) % SECOND;
  return whyNot({
    rule,
    figures: { ...figures, least: least && { ...least, at } },
    probed: then.past.length > 0 ? then : missed,
    keptBy: (due) => keptBy([...run.stood, ...run.changes], figures, rules, due),
    say,
    owners,
  });
}

/** What came before an alarm was due, and stood until then: it cannot come again. */
function stoodThrough(
  run: RunRecord,
  alarm: { readonly tag: string; readonly subject: string },
  { from, to }: Stretch,
): Occurrence | undefined {
  return occurrencesOf([...run.stood, ...run.changes]).find((one) =>
    one.tag === alarm.tag && one.subject === alarm.subject && one.raised < from &&
    (one.returned ?? run.ends) >= to
  );
}

/** What the probes of one alarm found while it did not stand. */
function notCame(
  run: RunRecord,
  alarm: { readonly tag: string; readonly subject: string },
): Probed {
  const came = occurrencesOf([...run.stood, ...run.changes])
    .filter(({ tag, subject }) => tag === alarm.tag && subject === alarm.subject)
    .map(({ raised, returned }) => ({ from: raised, to: returned ?? run.ends }));
  return probedWhere(
    probed(alarm, run.hidden, run.ends),
    (stretch) => !came.some((one) => overlap(one, stretch)),
  );
}

/** What could have raised it in time. */
function around({ from, to }: Stretch, { onDelay }: Rule, all: Probed): Probed {
  return probedWhere(all, (stretch) => overlap({ from: from - onDelay, to }, stretch));
}

function overlap(one: Stretch, other: Stretch): boolean {
  return one.from <= other.to && other.from <= one.to;
}

/** `--why TAG`: for each subject of a rule when its alarm came, or why it did not. */
export function whyLines(run: RunRecord, rule: Rule, setup: WhySetup): string[] {
  const say = (time: Micros) => sayOffset(Math.floor((time - run.begins) / 1000) * 1000);
  const came = occurrencesOf(run.changes).filter(({ tag }) => tag === rule.tag);
  return run.rules.filter(({ tag }) => tag === rule.tag).map(({ subject }) => {
    const times = came.filter((one) => one.subject === subject).map(({ raised }) => say(raised));
    const who = subject === "" ? `'${rule.title}'` : `'${rule.title}', ${subject},`;
    const stood = run.stood.some((one) => one.tag === rule.tag && one.subject === subject);
    const deeds = [
      ...(stood ? ["stood when the run began"] : []),
      ...(times.length > 0 ? [`came at ${times.join(", ")}`] : []),
    ];
    if (deeds.length > 0) return `${who} ${deeds.join(" and ")}.`;
    return `${who} did not come. ${whyNotIn(run, rule, subject, setup, say) ?? ""}`.trimEnd();
  });
}
