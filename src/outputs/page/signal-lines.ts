import { Quality, Reason } from "../../boat/quality.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import { type Reading, reading } from "../../units/say.ts";
import type { OwnersUnits } from "../../units/units.ts";
import type { SignalLine, SubjectLines } from "./boat-view.ts";
import { type Heading, headingOf, nameUnderHeading } from "./headings.ts";
import { quantityWords, spaced } from "./names.ts";

/** All signals by heading. `wallOf` turns the table's steady times into times of day. */
export function subjectLines(
  table: SignalTable,
  owners: OwnersUnits,
  wallOf: (steady: Micros) => Micros,
): readonly SubjectLines[] {
  const headings = new Map<string, { heading: Heading; signals: number[] }>();
  for (let signal = 0; signal < table.count; signal++) {
    const heading = headingOf(table.facts[signal]);
    const known = headings.get(heading.id);
    if (known === undefined) headings.set(heading.id, { heading, signals: [signal] });
    else known.signals.push(signal);
  }
  return [...headings.values()]
    .sort((a, b) => a.heading.rank - b.heading.rank)
    .map(({ heading: { id, title }, signals }) => ({
      id: `subject-${id}`,
      title,
      signals: linesOf(signals, table, owners, wallOf),
    }));
}

function linesOf(
  signals: readonly number[],
  table: SignalTable,
  owners: OwnersUnits,
  wallOf: (steady: Micros) => Micros,
): SignalLine[] {
  const isStatus = (signal: number) => table.facts[signal].quantity.startsWith("status/");
  const lines = signals.filter((signal) => !isStatus(signal))
    .map((signal) => lineOf(signal, table, owners, wallOf));
  const bits = signals.filter(isStatus);
  return bits.length === 0 ? lines : [...lines, statusLine(bits, table, wallOf)];
}

function lineOf(
  signal: number,
  table: SignalTable,
  owners: OwnersUnits,
  wallOf: (steady: Micros) => Micros,
): SignalLine {
  const heard = table.heardAt(signal);
  const lost = table.reasons[signal] === Reason.notHeard && heard > 0;
  // What is worked out here nobody sends.
  const isOpen = table.facts[signal].derived && table.reasons[signal] === Reason.notAvailable;
  return {
    id: `s${signal}`,
    name: nameUnderHeading(table.facts[signal]),
    value: valueOf(signal, table, owners),
    heard: heard > 0 ? wallOf(heard) : null,
    remark: isOpen
      ? "not known yet"
      : remarkOf(table.qualities[signal], table.reasons[signal], lost),
    lost,
  };
}

function valueOf(signal: number, table: SignalTable, owners: OwnersUnits): Reading {
  const value = table.values[signal];
  const { group, quantity, unit, words } = table.facts[signal];
  if (table.qualities[signal] === Quality.bad || Number.isNaN(value)) return NO_READING;
  if (words !== null) return { number: spaced(table.word(signal) ?? String(value)), unit: "" };
  if (unit === "1" && !COUNTING.has(group)) return { number: value === 0 ? "off" : "on", unit: "" };
  if (group === "position") {
    const halves = quantity === "latitude" ? "NS" : "EW";
    const shown = reading(Math.abs(value), unit, owners, 5);
    return { number: shown.number, unit: `${shown.unit} ${halves[value < 0 ? 1 : 0]}` };
  }
  return reading(value, unit, owners);
}

/** What these groups count is no bit that is on or off. */
const COUNTING: ReadonlySet<string> = new Set(["network", "computer"]);

const NO_READING: Reading = { number: "", unit: "" };

/** The bits that a device reports about itself, in one line: most of them, most of the time, are 0. */
function statusLine(
  bits: readonly number[],
  table: SignalTable,
  wallOf: (steady: Micros) => Micros,
): SignalLine {
  const known = bits.filter((bit) => table.qualities[bit] !== Quality.bad);
  const set = known.filter((bit) => table.values[bit] === 1);
  const heard = Math.max(...bits.map((bit) => table.heardAt(bit)));
  const names = set.map((bit) => quantityWords(table.facts[bit].quantity)).join(", ");
  const lost = known.length === 0 && heard > 0 && table.reasons[bits[0]] === Reason.notHeard;
  return {
    id: `s${bits[0]}`,
    name: "Status",
    value: known.length === 0
      ? NO_READING
      : { number: set.length === 0 ? "nothing reported" : `${set.length} reported`, unit: "" },
    heard: heard > 0 ? wallOf(heard) : null,
    remark: known.length === 0 ? remarkOf(Quality.bad, table.reasons[bits[0]], lost) : names,
    lost,
  };
}

const REMARKS: Readonly<Record<number, string>> = {
  [Reason.none]: "",
  [Reason.notAvailable]: "sent as not available",
  [Reason.outOfRange]: "sent as out of range",
  [Reason.notHeard]: "not heard",
  [Reason.implausible]: "not believable",
  [Reason.twoSenders]: "two senders",
  [Reason.inferred]: "worked out, not measured",
};

function remarkOf(quality: number, reason: number, lost: boolean): string {
  if (quality === Quality.good && reason !== Reason.inferred) return "";
  if (reason === Reason.notHeard) return lost ? "not heard" : "never heard";
  if (quality === Quality.uncertain && reason !== Reason.inferred) {
    return `uncertain: ${REMARKS[reason] ?? ""}`;
  }
  return REMARKS[reason] ?? "";
}
