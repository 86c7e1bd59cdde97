import type { Micros } from "../ground/time.ts";
import type { MinuteRecord } from "./minute-record.ts";

/**
 * The history of a boat's signals by the minute, in the state folder or in memory.
 *
 * Records are kept by signal and hour. Beside that, *sheets* remember in which order records were
 * made: sheet 7 is what an outlet sends after sheet 6, and what somebody ashore can ask for again.
 * All sheets of one `add` are of one minute, each small enough for one message.
 *
 * While nobody knows what time it is, records are *provisional*: their minutes are counted by the
 * steady clock of this start of the program, its *boot*. They are not sent until `restamp` has
 * moved them to their true minutes.
 */
export interface History {
  /** Number of the newest sheet; 0 before the first. */
  readonly lastSheet: number;
  /** Keeps the records of one turn; a record of the same signal and minute is replaced. */
  add(records: readonly MinuteRecord[], provisional: boolean): Promise<void>;
  /** Moves this boot's provisional records on by a count of minutes: they are provisional no more. */
  restamp(minutes: number): Promise<void>;
  /** Sheets with a higher number, oldest first, up to the first of this boot that is provisional. */
  sheetsAfter(number: number, limit: number): Promise<readonly Sheet[]>;
  /** Records of one signal in these minutes, both ends included, in order of time. */
  records(name: string, from: number, to: number): Promise<readonly MinuteRecord[]>;
  /** Number of the last sheet that is settled at an outlet; 0 before the first. */
  mark(outlet: string): Promise<number>;
  settle(outlet: string, number: number): Promise<void>;
  /**
   * Lets go of what lies before a wall time, and of the oldest days beyond a size in bytes. Nothing
   * is asked about sending: what nobody fetched for so long is given up. What earlier boots left
   * provisional cannot be placed any more and goes too.
   */
  forget(before: Micros, mostBytes: number): Promise<void>;
}

export interface Sheet {
  readonly number: number;
  readonly records: readonly MinuteRecord[];
}

/** Signals on one sheet: with these it stays below 64 kB as SenML. */
export const SHEET_SIZE = 150;
