import { Reason } from "../../boat/quality.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { Instance, Unjudged } from "../compile/instance.ts";
import { Found } from "../life-cycle/kleene.ts";
import { goodValue } from "../measures/good-value.ts";

/** How the instance that a caution is about stands. */
export interface AboutUnjudged {
  /** What it finds, or whether it watches. */
  readonly isUnknown: boolean;
  /** It watches, or it is not known whether it does. */
  readonly isWatching: boolean;
  readonly table: SignalTable;
}

/**
 * The test of a caution that another instance cannot be judged. Active while that one should watch and
 * is unknown; clear when it is known. While it need not watch, it is neither: what was said once is
 * not said again. What nothing aboard has ever sent is listed, and not raised.
 */
export function findUnjudged(
  test: Unjudged,
  about: Instance,
  { isUnknown, isWatching, table }: AboutUnjudged,
): Found {
  if (!isUnknown) return Found.clear;
  const isListed = about.missing.length > 0 || about.reason !== "";
  if (!isWatching || isListed || isContested(about, table)) return Found.deadband;
  return hasPower(test, table) && mayRun(test, table) ? Found.active : Found.deadband;
}

/** The built-in caution about two senders has said it already. */
function isContested(
  { signal, testSignals, watchSignals }: Instance,
  { reasons }: SignalTable,
): boolean {
  const isOne = (one: number) => one >= 0 && reasons[one] === Reason.twoSenders;
  return isOne(signal) || testSignals.some(isOne) || watchSignals.some(isOne);
}

function hasPower({ frames }: Unjudged, table: SignalTable): boolean {
  return frames === null || goodValue(table, frames) > 0;
}

/** Whether its engine was heard and is neither stopped nor presumed to be. */
function mayRun({ condition }: Unjudged, table: SignalTable): boolean {
  if (condition === null) return true;
  if (condition < 0 || table.heardAt(condition) === 0) return false;
  const word = table.word(condition);
  return word !== "stopped" && word !== "stopped-presumed";
}
