import { say } from "../units/say.ts";
import type { OwnersUnits } from "../units/units.ts";
import { sayRate, sayWho } from "./device-words.ts";
import { chapter, paragraph, sayCount, table } from "./paper.ts";
import type { SurveyReport, SurveySignal } from "./report-schema.ts";
import { unplacedLines } from "./unplaced-messages.ts";
import { foldStatusBits, isStatusBit, thingOf } from "./status-bits.ts";
import {
  NOT_AVAILABLE_ADVICE,
  type Verdict,
  VERDICT_CELLS,
  VERDICT_WORDS,
  VERDICTS,
} from "./verdict.ts";

/** Positions want five decimals, which no unit's usual number says. */
const DEGREES_OF_POSITION = 5;

/** First what is wrong, with its likely cause; then every signal. */
export function signalLines(report: SurveyReport, owners: OwnersUnits): string[] {
  return [
    ...chapter("What wants a look", lookLines(report, owners)),
    ...engineHourLines(report, owners),
    ...chapter(`Signals: ${report.signals.length}`, allLines(report, owners)),
  ];
}

function allLines({ signals, unplaced }: SurveyReport, owners: OwnersUnits): string[] {
  if (signals.length === 0) {
    const but = unplaced.length === 0
      ? "none of them carries a value that is known here"
      : "what they are about is not known; see above";
    return [`  None: messages came, and ${but}.`];
  }
  return [
    ...table(VERDICTS.flatMap((verdict) => {
      const count = signals.filter((signal) => signal.verdict === verdict).length;
      return count === 0 ? [] : [[VERDICT_WORDS[verdict], String(count)]];
    })),
    "",
    ...table([["", "value", "how often", "from", ""], ...rowsOf(signals, owners)]),
  ];
}

/** The gravest doubt first. */
const GRAVEST_FIRST: readonly Verdict[] = [
  "two-senders",
  "implausible",
  "frozen",
  "not-heard",
  "not-available",
  "talking",
];

/** Signals of one thing with one verdict and cause are told of together. */
export function lookLines(report: SurveyReport, owners: OwnersUnits): string[] {
  const { missing, signals, unplaced } = report;
  const together = new Map<string, SurveySignal[]>();
  const sorted = signals.toSorted((a, b) =>
    GRAVEST_FIRST.indexOf(a.verdict) - GRAVEST_FIRST.indexOf(b.verdict)
  );
  for (const signal of sorted) {
    if (signal.verdict === "talking" && signal.cause === "") continue;
    const key = JSON.stringify([thingOf(signal.name), signal.verdict, signal.cause]);
    together.set(key, [...together.get(key) ?? [], signal]);
  }
  const groups = [...together.values()];
  const nobody = unplaced.some(({ why }) => why === "undecided")
    ? "nothing that has said who it is"
    : "nothing";
  const lastLacking = groups.findLast(([{ verdict }]) => verdict === "not-available");
  return [
    ...groups.flatMap((group) => [
      ...lookAt(group, owners),
      // The same of all of them, so it is said once.
      ...(group === lastLacking ? paragraph(NOT_AVAILABLE_ADVICE, 4) : []),
    ]),
    ...missing.flatMap((subject) =>
      paragraph(`${subject}: not heard. The boat file names it; ${nobody} sends it.`, 2)
    ),
    ...unplacedLines(report),
  ];
}

function lookAt(group: readonly SurveySignal[], owners: OwnersUnits): string[] {
  const [{ cause, name, senders, verdict }] = group;
  const thing = thingOf(name);
  const statusBits = group.filter(({ name }) => isStatusBit(name));
  const quantities = group.filter((signal) => !isStatusBit(signal.name))
    .map((signal) => signal.name.slice(thing.length + 1) + valueBeside(signal, owners));
  if (statusBits.length > 0) quantities.push(sayCount(statusBits.length, "status bit"));
  const what = `${thing} ${quantities.join(", ")}`;
  const who = senders.map(sayWho).join(" and ") || "nobody now";
  if (verdict === "not-available") {
    return paragraph(`${what}: sent as not available by ${who}, ${sayMessages(group)}.`, 2);
  }
  if (verdict === "talking") return paragraph(`${what}: talking. ${cause}`, 2);
  return [
    ...paragraph(`${what}: ${VERDICT_WORDS[verdict]}.`, 2),
    ...(cause === "" ? [] : paragraph(cause, 4)),
    ...paragraph(`Sent by ${who}.`, 4),
  ];
}

function sayMessages(group: readonly SurveySignal[]): string {
  const [{ messages }] = group;
  const isOneRate = group.every((signal) => signal.messages === messages);
  const count = messages.toLocaleString("en");
  return isOneRate ? `${count} of ${count} messages` : "in all messages";
}

function valueBeside(signal: SurveySignal, owners: OwnersUnits): string {
  const tells = signal.verdict === "frozen" || signal.verdict === "implausible";
  return tells && signal.value !== null ? ` (${valueOf(signal, owners)})` : "";
}

/** Status bits that are not set stand together; a set one stands alone. */
function rowsOf(signals: readonly SurveySignal[], owners: OwnersUnits): string[][] {
  const byName = new Map(signals.map((signal) => [signal.name, signal]));
  const fare = (name: string) => {
    const { value = null, verdict } = byName.get(name) ?? {};
    return value === 1 ? name : `${verdict}`;
  };
  return foldStatusBits([...byName.keys()], fare).flatMap(({ names: [first], title }) => {
    const signal = byName.get(first);
    return signal === undefined ? [] : [rowOf(title, valueOf(signal, owners), signal)];
  });
}

function rowOf(
  name: string,
  value: string,
  { messages, rate, senders, verdict }: SurveySignal,
): string[] {
  return [
    name,
    value,
    sayRate(messages, rate),
    senders.map(({ address }) => address).join(" and "),
    VERDICT_CELLS[verdict],
  ];
}

export function valueOf({ name, unit, value, word }: SurveySignal, owners: OwnersUnits): string {
  if (word !== null) return word;
  if (isStatusBit(name) && value !== null) return value === 1 ? "reported" : "not reported";
  const isPosition = name === "position/latitude" || name === "position/longitude";
  return say(value, unit, owners, isPosition ? DEGREES_OF_POSITION : undefined);
}

export function engineHourLines(report: SurveyReport, owners: OwnersUnits): string[] {
  const { engines, signals } = report;
  const rows = engines.map(({ engine, hours }) => {
    const signal = signals.find(({ name }) => name === `engine/${engine}/hours`);
    return [
      engine,
      hours === null ? "not sent" : say(hours, "h", owners),
      signal?.verdict === "two-senders" ? "of the first of two that say they are this engine" : "",
    ];
  });
  return chapter("Engine hours", table(rows));
}
