import { readAmount, readDifference, readLimit } from "../../alarms/rules/rule-amounts.ts";
import type { Rule } from "../../alarms/rules/rule.ts";
import type { Amount, Difference, Limit, Setpoint } from "../../alarms/rules/rule-parts.ts";
import { nearestName } from "../../ground/spelling.ts";
import { parseDuration } from "../../units/duration.ts";
import { parseDifference } from "../../units/quantity.ts";
import { roundTo } from "../../units/rounding.ts";
import { hiddenTag, watchingLike } from "../hidden-rules.ts";

/** One number of one rule at each of several values. */
export interface Sweep {
  /** As the person wrote it. */
  readonly text: string;
  readonly rule: Rule;
  readonly variants: readonly Variant[];
  /** Nothing lies before the first value: a delay of nought. */
  readonly isLeast: boolean;
  /** The first value tells most and earliest, the last least and latest; else the other way round. */
  readonly isMostFirst: boolean;
}

export interface Variant {
  /** `12 psi` */
  readonly label: string;
  /** The rule with that value, hidden. */
  readonly rule: Rule;
  /** The value that the owner's file has. */
  readonly isWritten: boolean;
}

export type ReadSweep =
  | { readonly ok: true; readonly sweep: Sweep }
  /** A clause that says what was found and expected. */
  | { readonly ok: false; readonly why: string };

const PARAMETERS = ["setpoint", "shift", "on-delay", "off-delay"] as const;
type Parameter = typeof PARAMETERS[number];

const EXAMPLE = "'TAG setpoint 8 to 16 psi by 1' or 'TAG on-delay 1 to 10 s by 1'";
const PATTERN = /^(\S+)\s+(\S+)\s+(-?[\d.]+)\s+to\s+(-?[\d.]+)\s*(\S.*?)?\s+by\s+([\d.]+)$/;
/** More than anybody reads, and still less than a second of work for each hour of a bus. */
const MOST_VARIANTS = 500;

/**
 * `TAG setpoint 8 to 16 psi by 1`. `shift` moves a whole curve (or any setpoint) up or down.
 * @param number tells sweeps of one rehearsal apart
 */
export function readSweep(text: string, rules: readonly Rule[], number: number): ReadSweep {
  const parts = PATTERN.exec(text.trim());
  if (parts === null) return { ok: false, why: `found "${text}", expected ${EXAMPLE}` };
  const [, tag, name, from, to, unit = "", by] = parts;
  const rule = rules.find((one) => one.tag === tag);
  if (rule === undefined) return unknown(tag, rules.map((one) => one.tag), "this set of rules");
  const parameter = PARAMETERS.find((one) => one === name);
  if (parameter === undefined) {
    return unknown(name, PARAMETERS, "--try", `; it tries ${PARAMETERS.join(", ")}`);
  }
  const count = Math.floor((Number(to) - Number(from)) / Number(by) + 1e-9) + 1;
  if (!(Number(by) > 0)) {
    return { ok: false, why: `found a step of ${by}, expected one above 0` };
  }
  if (!(count >= 2)) {
    return { ok: false, why: `found "${text}", expected at least two values, the lower one first` };
  }
  if (count > MOST_VARIANTS) {
    return { ok: false, why: `found ${count} values, expected at most ${MOST_VARIANTS}` };
  }
  const decimals = Math.max(...[from, by].map((one) => one.split(".")[1]?.length ?? 0));
  const variants: Variant[] = [];
  for (let i = 0; i < count; i++) {
    const value = roundTo(Number(from) + i * Number(by), decimals);
    const label = `${value.toFixed(decimals)} ${unit}`.trimEnd();
    const changed = withValue(rule, parameter, label);
    if (typeof changed === "string") return { ok: false, why: changed };
    variants.push({
      label: parameter === "shift" && value > 0 ? `+${label}` : label,
      isWritten: isSame(changed, rule),
      rule: watchingLike(changed, hiddenTag(rule.tag, "try", String(number), String(i))),
    });
  }
  const isDelay = parameter !== "setpoint" && parameter !== "shift";
  const isLeast = Number(from) === 0 && isDelay;
  return {
    ok: true,
    sweep: { text, rule, variants, isLeast, isMostFirst: isDelay || rule.test.kind !== "low" },
  };
}

/** The rule with another value; a clause where that cannot be. */
function withValue(rule: Rule, parameter: Parameter, text: string): Rule | string {
  if (parameter === "on-delay" || parameter === "off-delay") {
    const read = parseDuration(text);
    if (!read.ok) return `found "${text}", expected ${read.expected}`;
    return { ...rule, [parameter === "on-delay" ? "onDelay" : "offDelay"]: read.value };
  }
  const { test } = rule;
  if (test.kind !== "low" && test.kind !== "high") return `${rule.tag} has no setpoint`;
  const setpoint = parameter === "shift"
    ? shifted(test.setpoint, text)
    : replaced(test.setpoint, text, rule.tag);
  return typeof setpoint === "string" ? setpoint : { ...rule, test: { ...test, setpoint } };
}

function replaced(before: Setpoint, text: string, tag: string): Setpoint | string {
  if (before.kind === "curve") {
    return `the setpoint of ${tag} is a curve; expected a shift of it, such as ` +
      `'${tag} shift -2 to 2 psi by 1'`;
  }
  if (before.kind === "share-of") {
    const { number } = before;
    const read = readLimit(text.endsWith(` of ${number}`) ? text : `${text} of ${number}`);
    return read.ok && read.value.kind === "share-of"
      ? read.value
      : `the setpoint of ${tag} is a share of ${number}; expected percentages, such as ` +
        `'${tag} setpoint 90 to 110 % by 5'`;
  }
  if (before.kind === "usual") {
    const read = readDifference(text);
    return read.ok && read.value.kind === "share"
      ? { ...before, percent: read.value.percent }
      : `the setpoint of ${tag} is a share of what is usual; expected percentages, such as ` +
        `'${tag} setpoint 60 to 90 % by 5'`;
  }
  if (before.kind === "starts") {
    const read = readDifference(text);
    return read.ok && read.value.kind === "fixed" && isLike(read.value, before.apart)
      ? { ...before, apart: read.value }
      : `the setpoint of ${tag} counts from its last starts; expected differences, such as ` +
        `'${tag} setpoint 0.4 to 1.2 V by 0.1'`;
  }
  const read = before.kind === "per-nominal" ? readLimit(text) : readAmount(writtenAs(text));
  if (!read.ok) return `found "${text}", expected ${read.expected}`;
  const amount = "kind" in read.value ? amountLike(before, read.value) : read.value;
  if (amount?.code !== before.amount.code) {
    return `found "${text}", expected a value like ${before.amount.written}`;
  }
  return { ...before, amount };
}

/** `11.8 V`, or `11.8 V per 12 V` as the rule has it; undefined for other forms. */
function amountLike(before: Setpoint, limit: Limit): Amount | undefined {
  if (limit.kind === "fixed") return limit.amount;
  if (limit.kind !== "per-nominal" || before.kind !== "per-nominal") return undefined;
  return limit.per.value === before.per.value ? limit.amount : undefined;
}

function isLike(one: Difference, other: Difference): boolean {
  return one.kind === "fixed" && other.kind === "fixed" && one.amount.code === other.amount.code;
}

/** Counts have no unit. */
function writtenAs(text: string): number | string {
  return /^-?[\d.]+$/.test(text) ? Number(text) : text;
}

function shifted(before: Setpoint, text: string): Setpoint | string {
  if (before.kind === "share-of") return "a share of a number is not shifted; try its setpoint";
  if (before.kind === "usual") return "a share of what is usual is not shifted";
  if (before.kind === "starts") return "a distance from the last starts is not shifted";
  const plain = writtenAs(text);
  const read = typeof plain === "number"
    ? { ok: true, value: plain, code: "1" } as const
    : parseDifference(plain);
  if (!read.ok) return `found "${text}", expected ${read.expected}`;
  const sample = before.kind === "curve" ? before.points[0].limit : before.amount;
  if (read.code !== sample.code) {
    return `found "${text}", expected a difference like that of ${sample.written}`;
  }
  const move = (amount: Amount): Amount => ({ ...amount, value: amount.value + read.value });
  return before.kind === "curve"
    ? { ...before, points: before.points.map(({ at, limit }) => ({ at, limit: move(limit) })) }
    : { ...before, amount: move(before.amount) };
}

/** The same numbers, however they were written. */
function isSame(one: Rule, other: Rule): boolean {
  const plain = ({ test, onDelay, offDelay }: Rule) =>
    JSON.stringify([test, onDelay, offDelay], (key, value) => key === "written" ? "" : value);
  return plain(one) === plain(other);
}

/** @param otherwise what is said where no name is near */
function unknown(
  found: string,
  valid: readonly string[],
  owner: string,
  otherwise = "",
): ReadSweep {
  const nearest = nearestName(found, valid);
  const meant = nearest === undefined ? otherwise : `; did you mean "${nearest}"?`;
  return { ok: false, why: `found "${found}", which ${owner} does not know${meant}` };
}
