/**
 * The 29-bit identifier of J1939-21, ISO 11783-3 and NMEA 2000:
 * priority 3 | extended data page 1 | data page 1 | PDU format 8 | PDU specific 8 | source 8.
 * Below PDU format 240 "PDU specific" is the destination and no part of the PGN.
 */

/** Destination of what is said to everybody. */
export const EVERYBODY = 255;
/** Source of a device that has no address. */
export const NO_ADDRESS = 254;

const FIRST_BROADCAST = 0xf000;

/** 0 (first) to 7. */
export function priorityOf(identifier: number): number {
  return (identifier >>> 26) & 7;
}

/** 18 bits, both data pages included; the low byte is 0 where the message has a destination. */
export function pgnOf(identifier: number): number {
  const pgn = (identifier >>> 8) & 0x3ffff;
  return isAddressed(pgn) ? pgn & 0x3ff00 : pgn;
}

export function sourceOf(identifier: number): number {
  return identifier & 0xff;
}

/** The address that the message is for, or `EVERYBODY`. */
export function destinationOf(identifier: number): number {
  return isAddressed(identifier >>> 8) ? (identifier >>> 8) & 0xff : EVERYBODY;
}

/** Whether messages of this PGN carry a destination (PDU format below 240). */
export function isAddressed(pgn: number): boolean {
  return (pgn & 0xff00) < FIRST_BROADCAST;
}

/** What an identifier says, in numbers. */
export interface IdentifierParts {
  readonly priority: number;
  readonly pgn: number;
  readonly source: number;
  /** Only where the PGN is addressed; `EVERYBODY` when not given. */
  readonly destination?: number;
}

/** @throws {RangeError} for a part that does not fit, or a destination that the PGN cannot carry. */
export function identifierOf(parts: IdentifierParts): number {
  const { priority, pgn, source, destination = EVERYBODY } = parts;
  requireWithin("priority", priority, 7);
  requireWithin("PGN", pgn, 0x3ffff);
  requireWithin("source", source, 0xff);
  requireWithin("destination", destination, 0xff);
  if (isAddressed(pgn)) {
    if ((pgn & 0xff) !== 0) throw new RangeError(`PGN ${pgn} has a destination in its low byte`);
    return ((priority << 26) | ((pgn | destination) << 8) | source) >>> 0;
  }
  if (destination !== EVERYBODY) throw new RangeError(`PGN ${pgn} goes to everybody`);
  return ((priority << 26) | (pgn << 8) | source) >>> 0;
}

function requireWithin(what: string, value: number, most: number): void {
  if (Number.isInteger(value) && value >= 0 && value <= most) return;
  throw new RangeError(`${what} is ${value}, expected a whole number from 0 to ${most}`);
}
