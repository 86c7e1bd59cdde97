import { Quality, Reason } from "../../boat/quality.ts";
import type { SignalFacts, SignalTable } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import { type Reading, reading } from "../../units/say.ts";
import type { OwnersUnits } from "../../units/units.ts";
import type { SignalLine, SubjectLines } from "./boat-view.ts";
import { capital, quantityWords, spaced, subjectWords } from "./names.ts";

/** Groups in the order of the page; others follow by name. */
const ORDER = [
  "engine",
  "gearbox",
  "battery",
  "charger",
  "inverter",
  "shore-power",
  "bilge",
  "tank",
  "detector",
  "cabin",
  "switch",
  "way",
  "weather",
];

/** Groups that share a heading, because each of them is only a line or two. */
const HEADINGS: Readonly<Record<string, { readonly id: string; readonly title: string }>> = {
  position: { id: "way", title: "Position and way" },
  course: { id: "way", title: "Position and way" },
  speed: { id: "way", title: "Position and way" },
  heading: { id: "way", title: "Position and way" },
  sounder: { id: "way", title: "Position and way" },
  wind: { id: "weather", title: "Wind and weather" },
  sea: { id: "weather", title: "Wind and weather" },
  air: { id: "weather", title: "Wind and weather" },
};

/** All signals by subject. `wallOf` turns the table's steady times into times of day. */
export function subjectLines(
  table: SignalTable,
  owners: OwnersUnits,
  wallOf: (steady: Micros) => Micros,
): readonly SubjectLines[] {
  const subjects = new Map<string, { group: string; title: string; signals: number[] }>();
  for (let signal = 0; signal < table.count; signal++) {
    const { group, subject } = table.facts[signal];
    const heading = HEADINGS[group];
    const id = heading?.id ?? (subject === "" ? group : `${group}-${subject}`);
    const title = heading?.title ?? capital(subjectWords(group, subject));
    const known = subjects.get(id);
    if (known === undefined) {
      subjects.set(id, { group: heading?.id ?? group, title, signals: [signal] });
    } else known.signals.push(signal);
  }
  return [...subjects]
    .sort(([, a], [, b]) => rank(a.group) - rank(b.group))
    .map(([id, { title, signals }]) => ({
      id: `subject-${id}`,
      title,
      signals: linesOf(signals, table, owners, wallOf),
    }));
}

function rank(group: string): number {
  const place = ORDER.indexOf(group);
  return place < 0 ? ORDER.length : place;
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
  const facts = table.facts[signal];
  const heard = table.heardAt(signal);
  const lost = table.reasons[signal] === Reason.notHeard && heard > 0;
  return {
    id: `s${signal}`,
    name: capital(nameIn(facts)),
    value: valueOf(signal, table, owners),
    heard: heard > 0 ? wallOf(heard) : null,
    remark: remarkOf(table.qualities[signal], table.reasons[signal], lost),
    lost,
  };
}

/** The name beneath its heading: where groups share one, the group stays in the name. */
function nameIn({ group, quantity }: SignalFacts): string {
  const bare = HEADINGS[group] === undefined || group === "position" || group === "sounder";
  if (bare) return quantityWords(quantity);
  // "apparent-speed" → "apparent wind speed"
  if (group === "wind") return quantityWords(quantity).replace(" ", " wind ");
  return `${spaced(group)} ${quantityWords(quantity)}`;
}

function valueOf(signal: number, table: SignalTable, owners: OwnersUnits): Reading {
  const value = table.values[signal];
  const { group, quantity, unit, words } = table.facts[signal];
  if (table.qualities[signal] === Quality.bad || Number.isNaN(value)) return NO_READING;
  if (words !== null) return { number: spaced(table.word(signal) ?? String(value)), unit: "" };
  if (unit === "1") return { number: value === 0 ? "off" : "on", unit: "" };
  if (group === "position") {
    const halves = quantity === "latitude" ? "NS" : "EW";
    const shown = reading(Math.abs(value), unit, owners, 5);
    return { number: shown.number, unit: `${shown.unit} ${halves[value < 0 ? 1 : 0]}` };
  }
  return reading(value, unit, owners);
}

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
    name: "Its own status",
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
