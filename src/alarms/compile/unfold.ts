import type { Boat, Subject } from "../../boat/boat.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { Rule } from "../rules/rule.ts";
import { ENGINE_PAIR, groupOfEach } from "../rules/signal-name.ts";
import { builtInAbout } from "./built-in.ts";

/** One rule for one subject: one alarm. */
export interface Unfolded {
  readonly rule: Rule;
  /** As in `alarm/TAG/SUBJECT`: "port"; "boat" for a rule without subjects. */
  readonly subject: string;
  /** The boat file's words about it; null where it says nothing. */
  readonly described: Subject | null;
  /** The two engines of a rule about a pair; null for every other. */
  readonly twins: readonly [string, string] | null;
}

/** Subject of a rule that is about the boat. */
const BOAT = "boat";

/**
 * Rules times subjects, in the order of (tag, subject), with the built-in cautions.
 * @param remembered alarms kept from before, whose subject may not have been heard yet
 */
export function unfold(
  rules: readonly Rule[],
  table: SignalTable,
  boat: Boat,
  remembered: readonly { readonly tag: string; readonly subject: string }[],
): Unfolded[] {
  const unfolded = rules.flatMap((rule) =>
    rule.each === ENGINE_PAIR
      ? pairOf(rule, table, boat)
      : subjectsOf(rule, table, remembered).flatMap((subject): Unfolded[] => {
        const described = describedBy(boat, rule.each, subject);
        const isMeant = isNamed(rule, subject) && fits(rule, described);
        return isMeant ? [{ rule, subject, described, twins: null }] : [];
      })
  );
  for (const facts of table.facts) {
    const builtIn = builtInAbout(facts);
    if (builtIn !== null) unfolded.push({ ...builtIn, described: null, twins: null });
  }
  return unfolded.sort((a, b) => compare(a.rule.tag, b.rule.tag) || compare(a.subject, b.subject));
}

/** The order of names everywhere in alarms: by code unit, the same on every machine. */
export function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function subjectsOf(
  rule: Rule,
  table: SignalTable,
  remembered: readonly { readonly tag: string; readonly subject: string }[],
): string[] {
  if (rule.each === null) return [BOAT];
  const subjects = new Set(table.subjectsOf(rule.each));
  for (const alarm of remembered) if (alarm.tag === rule.tag) subjects.add(alarm.subject);
  return [...subjects];
}

/** Port and starboard, or the only two engines that there are; otherwise nothing is a pair. */
function pairOf(rule: Rule, table: SignalTable, boat: Boat): Unfolded[] {
  const engines = table.subjectsOf(groupOfEach(ENGINE_PAIR));
  const sides = ["port", "starboard"].filter((side) => engines.includes(side));
  const [one, other, third] = sides.length === 2 ? sides : [...engines].sort(compare);
  if (other === undefined || third !== undefined) return [];
  const subject = `${one}-${other}`;
  const fit = [one, other].every((engine) => fits(rule, describedBy(boat, "engine", engine)));
  if (!isNamed(rule, subject) || !fit) return [];
  return [{ rule, subject, described: null, twins: [one, other] }];
}

function describedBy(boat: Boat, group: string | null, name: string): Subject | null {
  return boat.subjects.find((one) => one.group === group && one.name === name) ?? null;
}

function isNamed(rule: Rule, subject: string): boolean {
  return rule.only === null || rule.only.includes(subject);
}

function fits(rule: Rule, described: Subject | null): boolean {
  return Object.entries(rule.where).every(([key, word]) => described?.words[key] === word);
}
