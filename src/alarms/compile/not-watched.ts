import type { Boat } from "../../boat/boat.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import { MINUTE } from "../../ground/time.ts";
import { type Rule, USUAL_MANNER } from "../rules/rule.ts";
import { placeOfName } from "../rules/signal-name.ts";
import type { Instance } from "./instance.ts";

/** Tag of the built-in caution that a rule which should watch cannot be judged. */
export const NOT_WATCHED = "not-watched";

/** How long a rule may be unknown while it should watch (contract §5). */
const UNKNOWN_FOR = MINUTE;

/** Whether it matters that a rule cannot be judged. */
export function wantsWatching({ priority }: Rule): boolean {
  return priority === "alarm" || priority === "emergency-alarm";
}

const known = new WeakMap<Rule, Rule>();

/** The built-in caution about one rule; of the same rule it is the same one. */
export function notWatchedRule(about: Rule): Rule {
  const before = known.get(about);
  if (before !== undefined) return before;
  const rule: Rule = {
    tag: NOT_WATCHED,
    title: `Not watched: ${about.title}`,
    each: null,
    where: {},
    only: null,
    test: about.test,
    watchWhile: null,
    suppressedWhile: null,
    covers: [],
    onDelay: UNKNOWN_FOR,
    offDelay: 0,
    priority: "caution",
    ...USUAL_MANNER,
    consequence: "Nothing would be said if it happened.",
    response: {
      aboard: "Look at the sender, its wire, and the device that should send it.",
      ashore: "Have it looked at before the boat is used again.",
    },
  };
  known.set(about, rule);
  return rule;
}

/** `oil-pressure-low--port` */
export function notWatchedSubject(
  about: { readonly rule: Rule; readonly subject: string },
): string {
  return `${about.rule.tag}--${about.subject}`;
}

/** What an alarm is about: its subject, and of *not watched* that of the other rule. */
export function subjectInQuestion(subject: string): string {
  return subject.split("--").at(-1) ?? subject;
}

/** The instance that watches over another one, at place `of` of the compiled list. */
export function tieNotWatched(
  about: Instance,
  of: number,
  table: SignalTable,
  boat: Boat,
): Instance {
  const engine = engineOf(about);
  const network = networkOf(about, table, boat);
  const isAlways = boat.networks.every(({ name, powered }) =>
    name !== network || powered === "always"
  );
  const condition = engine === null ? -1 : table.find(`${engine}/condition`);
  const frames = network === null ? -1 : table.find(`network/${network}/frames`);
  return {
    ...about,
    rule: notWatchedRule(about.rule),
    subject: notWatchedSubject(about),
    test: {
      kind: "unjudged",
      of,
      condition: engine === null ? null : condition,
      frames: network === null || frames < 0 && isAlways ? null : frames,
    },
    endStep: about.firstStep,
    testSignals: [condition, frames],
    watchStep: -1,
    held: [],
    watchSignals: [],
    suppressStep: -1,
    suppressSignals: [],
    missing: [
      ...(engine !== null && condition < 0 ? [`${engine}/condition`] : []),
      ...(network !== null && frames < 0 ? [`network/${network}/frames`] : []),
    ],
    reason: "",
  };
}

const GROUPS_OF_ENGINES: Readonly<Record<string, string>> = {
  engine: "engine",
  generator: "generator",
  gearbox: "engine",
};

/** The engine without which a rule has nothing to watch; null for none. */
function engineOf({ rule, subject, twins }: Instance): string | null {
  if (twins !== null) return `engine/${twins[0]}`;
  const group = rule.each === null ? undefined : GROUPS_OF_ENGINES[rule.each];
  return group === undefined ? null : `${group}/${subject}`;
}

/**
 * Its network: a bus without frames is another alarm's business, or its breaker is off. Null where
 * nobody knows which it is.
 */
function networkOf(
  { signalName, described }: Instance,
  table: SignalTable,
  boat: Boat,
): string | null {
  const { group, subject } = placeOfName(signalName);
  const judged = boat.subjects.find((one) => one.group === group && one.name === subject);
  const bus = (judged ?? described)?.keys.find((key) => key.bus !== undefined)?.bus;
  const heard = table.subjectsOf("network");
  const network = bus === undefined && boat.networks.length === 1
    ? boat.networks[0].name
    : boat.networks.find((one) => one.bus === bus)?.name;
  return network ?? (heard.length === 1 ? heard[0] : null);
}
