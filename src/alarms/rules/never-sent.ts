import type { Boat } from "../../boat/boat.ts";
import { hoursOfName } from "../../boat/hours-of-day.ts";
import type { Place, Problem } from "../../ground/problem.ts";
import type { SignalReference } from "./rule-parts.ts";
import type { Rule } from "./rule.ts";
import { ENGINE_PAIR, isAbsolute, kindOfSignal, placeOfName, sayReference } from "./signal-name.ts";
import { signalsNeeded } from "./signals-needed.ts";

/** Every signal that was heard, by its whole name: whether it was ever anything but not available. */
export type Heard = ReadonlyMap<string, boolean>;

/**
 * Notices that nobody sends what a rule needs, or sends it without a value.
 * @param boat by which the recording was read
 * @param place where the rule stands
 */
export function neverSent(rule: Rule, heard: Heard, boat: Boat, place: Place): Problem[] {
  const notes = signalsNeeded(rule).flatMap((reference) => noteOn(reference, rule, heard, boat));
  return [...new Set(notes)].map((note) => ({ kind: "notice", place, found: rule.tag, note }));
}

function noteOn(
  reference: SignalReference,
  rule: Rule,
  heard: Heard,
  boat: Boat,
): readonly string[] {
  if (reference.of === null && hoursOfName(reference.name) !== null) return [];
  const kind = kindOfSignal(reference, rule.each);
  if (kind === null) return [];
  const said = sayReference(reference, rule.each);
  const isOwn = reference.of === null && !isAbsolute(reference.name);
  const sent = reference.of === null && !isOwn
    ? [reference.name].filter((name) => heard.has(name))
    : namesOf(kind, heard);
  if (sent.length === 0) return [`never raised: nothing sends ${said}`];
  const names = isOwn ? sent.filter((name) => isMeant(name, rule, boat)) : sent;
  if (names.length === 0) {
    // A pack has rules for what this boat does not have.
    if (rule.only === null) return [];
    return [`never raised: nothing sends ${said} of ${rule.only.join(" or ")}`];
  }
  // That a signal is not heard can be told of one that is heard without a value.
  if (rule.test.kind === "not-heard" && reference === rule.test.signal) return [];
  const empty = names.filter((name) => heard.get(name) === false);
  if (empty.length === 0) return [];
  const isAll = empty.length === names.length;
  const whose = empty.map((name) => placeOfName(name).subject).join(" and ");
  if (isAll || rule.each === ENGINE_PAIR) {
    return [`never raised: ${said}${isAll ? "" : ` of ${whose}`} is always sent as not available`];
  }
  // Of several batteries, which one is related to an engine is not looked at here.
  if (!isOwn) return [];
  return [`never raised for ${whose}: ${said} is always sent as not available`];
}

function namesOf(
  { group, quantity }: { readonly group: string; readonly quantity: string },
  heard: Heard,
): readonly string[] {
  return [...heard.keys()].filter((name) => {
    const place = placeOfName(name);
    return place.group === group && place.quantity === quantity;
  });
}

/** Whether a rule is about the subject of a signal, as far as the boat file says. */
function isMeant(name: string, { only, where, each }: Rule, boat: Boat): boolean {
  const { group, subject } = placeOfName(name);
  const described = boat.subjects.find((one) => one.group === group && one.name === subject);
  const isNamed = only === null || only.includes(subject) || each === ENGINE_PAIR;
  const isKnown = boat.subjects.some((one) => one.group === group);
  return isNamed &&
    (!isKnown || Object.entries(where).every(([key, word]) => described?.words[key] === word));
}
