import { NewerHistory } from "./history-tables.ts";
import { NewerStore } from "./store-tables.ts";

/** Why a state folder cannot be used, and what to do about it, in one or two sentences. */
export function openProblem(folder: string, error: unknown): string {
  const said = error instanceof Error ? error.message : String(error);
  if (error instanceof NewerStore || error instanceof NewerHistory) {
    return `The state folder "${folder}" was written by a newer Sternfast. ` +
      "Use that version, or choose another folder with --state.";
  }
  if (said.includes("database is locked")) {
    return `The state folder "${folder}" is in use by another Sternfast. ` +
      "Stop that one, or choose another folder with --state.";
  }
  if (said.includes("not a database") || said.includes("malformed")) {
    return `The state folder "${folder}" is damaged (${said}). ` +
      "Move it away to start afresh; what it remembered is then lost.";
  }
  return `The state folder "${folder}" cannot be written (${said}). ` +
    "Give this user the right to write there, or choose another folder with --state.";
}
