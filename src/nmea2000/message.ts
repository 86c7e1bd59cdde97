/**
 * One completed message, whatever carried it: single frame, fast packet or transport. The assembler
 * has one of these and overwrites it; read it before the next frame is handed over.
 */
export interface Message {
  /** Index into the compiled rows, or -1 for a PGN without a row. */
  row: number;
  pgn: number;
  source: number;
  /** 255 for everybody. */
  destination: number;
  /** As `BusNames` numbers them. */
  bus: number;
  /** Holds the message from `start`, `length` bytes. */
  bytes: Uint8Array;
  start: number;
  length: number;
}
