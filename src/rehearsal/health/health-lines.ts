import type { Micros } from "../../ground/time.ts";
import { columns } from "../columns.ts";
import { sayLength } from "../run-words.ts";
import { type Health, PER, prioritiesPresent, rateIn } from "./health.ts";

/** Alarms that no expectation knows, in the recordings that have expectations. */
export interface FalseAlarms {
  readonly count: number;
  readonly lasting: Micros;
}

/** An owner's own target: more often than this and he no longer looks. */
const FALSE_A_MONTH = 1;

/** The measures in words, for lines of text and for a page. */
export interface HealthTable {
  readonly heading: string;
  /** Measure, found, target. */
  readonly rows: readonly (readonly string[])[];
  /** Name, how often, share of all. */
  readonly frequent: readonly (readonly string[])[];
}

/**
 * The measures as a table, each with its usual target beside it. Targets: a day, chattering and
 * standing as self-audits of ANSI/ISA-18.2 give them; peak and priorities as EEMUA publication 191
 * does; an hour and the share of floods from memory of ANSI/ISA-18.2, tables 7 and 8.
 */
export function healthTable(health: Health, wrong: FalseAlarms): HealthTable {
  const { alarms, lasting, peak, floods, chattering, standing, frequent } = health;
  const flooded = floods.reduce((sum, flood) => sum + flood.lasting, 0);
  const rows: string[][] = [
    ["alarms in all", String(alarms), ""],
    ["alarms a day", sayRate(rateIn(health, PER.day)), "150 at most"],
    ["alarms an hour", sayRate(rateIn(health, PER.hour)), "6 at most"],
    ["most in ten minutes", String(peak), "10 at most"],
    ["floods", sayFloods(health), ""],
    ["time in floods", lasting === 0 ? "" : sayShare(flooded / lasting), "under 1 % of it"],
    ["chattering alarms", sayNames(chattering.map(({ name }) => name)), "none"],
    ["standing over a day", sayNames(standing.map(({ name }) => name)), "fewer than 5"],
    ["priorities", sayPriorities(health), "about 5 % alarm, 15 % warning, 80 % caution"],
    ["false alarms a month", sayFalse(wrong), `${FALSE_A_MONTH} at most, an owner's own target`],
  ];
  return {
    heading: `The alarm system over ${
      sayLength(lasting)
    }, by the measures of ISA-18.2 and EEMUA 191`,
    rows,
    frequent: frequent.map(({ name, alarms: count }) => [
      name,
      String(count),
      sayShare(count / alarms),
    ]),
  };
}

export function healthLines({ heading, rows, frequent }: HealthTable): string[] {
  return [
    heading,
    ...columns([["", "found", "target"], ...rows]),
    ...(frequent.length === 0 ? [] : ["", "Most frequent", ...columns(frequent)]),
  ];
}

function sayFloods({ floods }: Health): string {
  if (floods.length === 0) return "none";
  const alarms = floods.reduce((sum, flood) => sum + flood.alarms, 0);
  const peak = Math.max(...floods.map((flood) => flood.peak));
  return `${floods.length}, ${alarms} alarms, ${peak} at the peak`;
}

function sayPriorities(health: Health): string {
  const present = prioritiesPresent(health);
  if (present.length === 0) return "none";
  return present.map((priority) =>
    `${sayShare(health.priorities[priority] / health.alarms)} ${priority}`
  ).join(", ");
}

function sayFalse({ count, lasting }: FalseAlarms): string {
  if (lasting === 0) return "not known: no recording says what is right";
  const rate = count * PER.month / lasting;
  return `${sayRate(rate)} (${count} in ${sayLength(lasting)})`;
}

function sayNames(names: readonly string[]): string {
  return names.length === 0 ? "none" : names.join("; ");
}

/** Two digits are enough for a rate. */
function sayRate(rate: number): string {
  if (Number.isNaN(rate)) return "";
  return rate >= 10 || rate === 0 ? String(Math.round(rate)) : rate.toFixed(1);
}

function sayShare(share: number): string {
  return `${Number((share * 100).toFixed(share < 0.1 ? 1 : 0))} %`;
}
