import type { FrameBatch } from "../../bus/frame-batch.ts";
import { FrameWriter } from "../../nmea2000/frame-writer.ts";
import type { PgnRow } from "../../nmea2000/row.ts";
import type { MessageEncoder, OutgoingMessage } from "../../simulator/message-encoder.ts";

/** What the simulator is given to make frames with: the rows that the decoder reads. */
export class RowEncoder implements MessageEncoder {
  readonly #rows: ReadonlyMap<number, PgnRow>;
  readonly #writer = new FrameWriter();

  constructor(rows: readonly PgnRow[]) {
    this.#rows = new Map(rows.map((row) => [row.pgn, row]));
  }

  /** @throws {RangeError} for a message without a row, or one that its row cannot say. */
  append(batch: FrameBatch, { pgn, values, ...envelope }: OutgoingMessage): void {
    const row = this.#rows.get(pgn);
    if (row === undefined) throw new RangeError(`no row for PGN ${pgn}`);
    if (!this.#writer.write(batch, row, values, envelope)) {
      throw new RangeError(`no room for PGN ${pgn} in the batch`);
    }
  }
}
