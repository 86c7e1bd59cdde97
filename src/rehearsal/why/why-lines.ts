import type { Rule } from "../../alarms/rules/rule.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { OwnersUnits } from "../../units/units.ts";
import { sayOffset } from "../expectations/expected-time.ts";
import { occurrencesOf } from "../occurrences.ts";
import type { RunRecord } from "../run-record.ts";
import { keptBy } from "./kept-by.ts";
import { probed } from "./probes.ts";
import { whyNot } from "./why-words.ts";

export interface WhySetup {
  /** All rules of the rehearsal. */
  readonly rules: readonly Rule[];
  readonly owners: OwnersUnits;
}

/**
 * Why one rule's alarm did not come for one subject; undefined where the run knew no such subject.
 * @param say how a time is written
 */
export function whyNotIn(
  run: RunRecord,
  rule: Rule,
  subject: string,
  { rules, owners }: WhySetup,
  say: (time: Micros) => string,
): string | undefined {
  const figures = run.rules.find((one) => one.tag === rule.tag && one.subject === subject);
  if (figures === undefined) return undefined;
  const { least } = figures;
  // Room is looked at once a second; parts of one say nothing.
  const at = least === null ? 0 : least.at - (least.at - run.begins) % SECOND;
  return whyNot({
    rule,
    figures: { ...figures, least: least && { ...least, at } },
    probed: probed(figures, run.hidden, run.ends),
    keptBy: (due) => keptBy(run.changes, figures, rules, due),
    say,
    owners,
  });
}

/** `--why TAG`: for each subject of a rule when its alarm came, or why it did not. */
export function whyLines(run: RunRecord, rule: Rule, setup: WhySetup): string[] {
  const say = (time: Micros) => sayOffset(Math.floor((time - run.begins) / 1000) * 1000);
  const came = occurrencesOf(run.changes).filter(({ tag }) => tag === rule.tag);
  return run.rules.filter(({ tag }) => tag === rule.tag).map(({ subject }) => {
    const times = came.filter((one) => one.subject === subject).map(({ raised }) => say(raised));
    const who = subject === "" ? `'${rule.title}'` : `'${rule.title}', ${subject},`;
    if (times.length > 0) return `${who} came at ${times.join(", ")}.`;
    return `${who} did not come. ${whyNotIn(run, rule, subject, setup, say) ?? ""}`.trimEnd();
  });
}
