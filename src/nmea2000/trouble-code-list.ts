import type { Columns } from "./columns.ts";
import type { Message } from "./message.ts";
import { senderOf } from "./message-counts.ts";
import { type TroubleCode, troubleCodesOf } from "./trouble-codes.ts";

/** Codes that are kept of one sender; an engine in trouble has a handful. */
const MOST_CODES = 64;

/** A trouble code that a sender has listed. */
export interface ListedTroubleCode extends TroubleCode {
  readonly bus: number;
  readonly source: number;
  /** It stands in the sender's last list of active codes. */
  readonly isActive: boolean;
}

/** What each sender finds wrong with itself, now (DM1) and before (DM2). */
export class TroubleCodeList {
  /** By sender, then by parameter number and failure mode. */
  readonly #senders = new Map<number, Map<number, ListedTroubleCode>>();

  /** Takes in a list of codes: all that are active, or some that were. */
  take(columns: Columns, message: Message, areActive: boolean): void {
    const { bus, bytes, length, row, source, start } = message;
    const listed = troubleCodesOf(columns, row, bytes, start, length);
    const sender = senderOf(bus, source);
    const known = this.#senders.get(sender) ?? new Map<number, ListedTroubleCode>();
    if (known.size === 0 && listed.length === 0) return;
    this.#senders.set(sender, known);
    if (areActive) {
      for (const [key, code] of known) known.set(key, { ...code, isActive: false });
    }
    for (const code of listed) {
      const key = (code.spn << 5) | code.fmi;
      if (!known.has(key) && known.size === MOST_CODES) continue;
      const isActive = areActive || known.get(key)?.isActive === true;
      known.set(key, { ...code, bus, source, isActive });
    }
  }

  /** By bus and sender, then in the order in which they were first listed. */
  get codes(): ListedTroubleCode[] {
    return [...this.#senders].toSorted(([a], [b]) => a - b)
      .flatMap(([, known]) => [...known.values()]);
  }
}
