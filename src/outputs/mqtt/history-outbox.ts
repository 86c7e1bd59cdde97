import { type Micros, MINUTE } from "../../ground/time.ts";
import type { History, Sheet } from "../../store/history.ts";
import { fittingSheets, historyPack } from "./history-payload.ts";

/** A pack tells of at most so many minutes; less than that waits for more. */
const PACK_MINUTES = 15;
/** Sheets that are read at once: more than fit in a pack. */
const READ_AT_ONCE = 16;

const SENT = "mqtt";
const ASHORE = "ashore";

export interface HistoryOutboxParts {
  readonly history: History;
  readonly base: string;
  readonly epoch: string;
  /** The broker is ashore: what it accepts is safe there. */
  readonly ashore: boolean;
}

/** A bus that falls asleep fills no pack: what it said last goes out after so long all the same. */
const LONGEST_WAIT: Micros = PACK_MINUTES * MINUTE;

/**
 * The history on its way to the broker, a pack at a time, in the order of its sheets and at least
 * once. It waits until a pack is full, so that a metered line carries few large messages.
 */
export class HistoryOutbox {
  /** Steady time before which no look is worth it. */
  #lookAgain: Micros = -Infinity;
  /** Steady time since which a pack waits to be full; undefined while none does. */
  #waitsSince: Micros | undefined;
  readonly #again: { from: number; readonly to: number }[] = [];

  private constructor(
    readonly parts: HistoryOutboxParts,
    /** Number of the last sheet that the broker has accepted. */
    public mark: number,
    /** Number of the last sheet that is safe ashore. */
    public ashore: number,
  ) {}

  static async open(parts: HistoryOutboxParts): Promise<HistoryOutbox> {
    const { history } = parts;
    return new HistoryOutbox(parts, await history.mark(SENT), await history.mark(ASHORE));
  }

  /** Whether there may be something to send. */
  owes(now: Micros, hurry: boolean): boolean {
    if (this.#again.length > 0) return true;
    return this.mark < this.parts.history.lastSheet && (hurry || now >= this.#lookAgain);
  }

  /**
   * Sends one pack; false when none is ready.
   * @param hurry also one that is not full
   * @throws what `send` throws; then nothing of it counts as sent
   */
  async sendSome(
    send: (payload: string) => Promise<void>,
    now: Micros,
    hurry: boolean,
  ): Promise<boolean> {
    if (!this.owes(now, hurry)) return false;
    const { history, base, epoch, ashore } = this.parts;
    const sheets = this.mark < history.lastSheet
      ? await history.sheetsAfter(this.mark, READ_AT_ONCE)
      : [];
    const fitting = fittingSheets(base, epoch, sheets, PACK_MINUTES);
    const isFull = fitting.length < sheets.length || coversPack(fitting);
    const goes = fitting.length > 0 && (isFull || hurry || this.#hasWaited(now));
    if (!goes) {
      this.#lookAgain = now + MINUTE;
      return await this.#sendAgain(send);
    }
    this.#waitsSince = undefined;
    if (hasRecords(fitting)) await send(historyPack(base, epoch, fitting));
    this.mark = fitting[fitting.length - 1].number;
    await history.settle(SENT, this.mark);
    if (ashore) await this.received(this.mark);
    return true;
  }

  /**
   * Owes these sheets again.
   * @returns the range that really follows; null where there is none of it
   */
  async resend(from: number, to: number): Promise<{ from: number; to: number } | null> {
    const [first] = await this.parts.history.sheetsAfter(from - 1, 1);
    const range = {
      from: first?.number ?? Infinity,
      to: Math.min(to, this.parts.history.lastSheet),
    };
    if (range.from > range.to) return null;
    const known = this.#again.some((one) => one.from <= range.from && one.to >= range.to);
    if (!known) this.#again.push({ ...range });
    return range;
  }

  /** Everything up to this sheet is safe ashore. False for a number that was never given. */
  async received(number: number): Promise<boolean> {
    if (number > this.parts.history.lastSheet) return false;
    this.ashore = Math.max(this.ashore, number);
    await this.parts.history.settle(ASHORE, number);
    return true;
  }

  #hasWaited(now: Micros): boolean {
    this.#waitsSince ??= now;
    return now - this.#waitsSince >= LONGEST_WAIT;
  }

  async #sendAgain(send: (payload: string) => Promise<void>): Promise<boolean> {
    const range = this.#again[0];
    if (range === undefined) return false;
    const { history, base, epoch } = this.parts;
    const found = await history.sheetsAfter(range.from - 1, READ_AT_ONCE);
    const asked = found.filter(({ number }) => number <= range.to);
    const sheets = fittingSheets(base, epoch, asked, PACK_MINUTES);
    if (hasRecords(sheets)) await send(historyPack(base, epoch, sheets));
    range.from = (sheets.at(-1)?.number ?? range.to) + 1;
    if (range.from > range.to) this.#again.shift();
    return true;
  }
}

function hasRecords(sheets: readonly Sheet[]): boolean {
  return sheets.some(({ records }) => records.length > 0);
}

function coversPack(sheets: readonly Sheet[]): boolean {
  const minutes = sheets.flatMap(({ records }) => records.map(({ minute }) => minute));
  return Math.max(...minutes) - Math.min(...minutes) + 1 >= PACK_MINUTES;
}
