import { Quality, Reason } from "../boat/quality.ts";
import type { SignalTable } from "../boat/signal-table.ts";
import type { Micros } from "../ground/time.ts";
import type { Instance } from "./compile/instance.ts";
import { Kleene } from "./life-cycle/kleene.ts";

/** A rule that cannot be judged now, and why. */
export interface NotWatched {
  readonly tag: string;
  /** Empty where the rule has no alarm, of anything or of some things. */
  readonly subject: string;
  readonly title: string;
  /** "nothing sends tank/fuel-port/level" */
  readonly reason: string;
}

/** The reason of a rule that is left alone on purpose, which is no fault. */
export const NOT_WATCHING = "not watching";

/** What an instance stands at. */
export interface Standing {
  readonly watching: Kleene;
  /** The limit as judged now; NaN while it is not known. */
  readonly limit: number;
  /** How long the judged signal may stay unheard; Infinity for ever. */
  readonly oldAge: Micros;
  readonly table: SignalTable;
}

/** Why a rule is not judged for a subject at this moment; empty when it is. */
export function reasonUnjudged(instance: Instance, standing: Standing): string {
  const { signal, signalName, missing, reason, test, testSignals } = instance;
  const { watching, limit, oldAge, table } = standing;
  if (test.kind === "unjudged") return "";
  if (reason !== "") return reason;
  if (watching === Kleene.no) return NOT_WATCHING;
  if (missing.length > 0) return `nothing sends ${missing.join(", ")}`;
  if (watching === Kleene.unknown) return unknownWatch(instance, table);
  if (test.kind === "not-heard") {
    if (oldAge === Infinity) return `${signalName} is sent without a usual period`;
    return table.heardAt(signal) > 0 ? "" : sayReason(table, signal);
  }
  if (test.kind === "measured") {
    if (!Number.isNaN(test.measure.figure)) return "";
    const unknown = [signal, ...testSignals].find((one) => table.qualities[one] !== Quality.good);
    if (unknown !== undefined) return sayReason(table, unknown);
    return test.measure.lack ?? "not heard for long enough";
  }
  if (table.qualities[signal] !== Quality.good) return sayReason(table, signal);
  if (test.kind === "discrepancy") {
    const unknown = testSignals.find((one) => !isJudged(table, one));
    return unknown === undefined ? "" : sayReason(table, unknown);
  }
  if (!("curve" in test) || test.curve === null || !Number.isNaN(limit)) return "";
  return sayReason(table, test.curve.along);
}

/** Conditions judge what is inferred, since nothing better comes. */
function isJudged({ qualities, reasons }: SignalTable, signal: number): boolean {
  return qualities[signal] === Quality.good || reasons[signal] === Reason.inferred;
}

function unknownWatch({ watchSignals }: Instance, table: SignalTable): string {
  const unknown = watchSignals.find((signal) => !isJudged(table, signal));
  return unknown === undefined ? "not known yet whether to watch" : sayReason(table, unknown);
}

const REASON_CLAUSES: Readonly<Record<number, string>> = {
  [Reason.notAvailable]: "is sent as not available",
  [Reason.outOfRange]: "is out of range",
  [Reason.notHeard]: "is not heard",
  [Reason.implausible]: "is not plausible",
  [Reason.twoSenders]: "comes from two senders",
  [Reason.inferred]: "is only inferred",
};

function sayReason(table: SignalTable, signal: number): string {
  return `${table.facts[signal].name} ${REASON_CLAUSES[table.reasons[signal]] ?? "is not known"}`;
}
