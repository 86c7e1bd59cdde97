/**
 * What an adapter reports by an error frame, one word each; a frame may report several. The classes
 * and their bits are those of Linux's `can/error.h`, which adapters, candump and captures share.
 */
export const ERROR_KINDS = [
  "bus-off",
  "restarted",
  "error-passive",
  "error-warning",
  "error-active",
  "no-acknowledge",
  "overflow",
  "transmit-timeout",
  "lost-arbitration",
  "protocol-violation",
  "transceiver",
  "bus-error",
] as const;

export type ErrorKind = typeof ERROR_KINDS[number];

/** Kinds that tell of cables, terminators, connectors or the bit rate, not of a busy computer. */
export const WIRING_KINDS: ReadonlySet<ErrorKind> = new Set([
  "bus-off",
  "error-passive",
  "error-warning",
  "no-acknowledge",
  "protocol-violation",
  "transceiver",
  "bus-error",
]);

/** Bits of an error frame's identifier. */
export const ErrorClass = {
  transmitTimeout: 0x001,
  lostArbitration: 0x002,
  controller: 0x004,
  protocol: 0x008,
  transceiver: 0x010,
  noAcknowledge: 0x020,
  busOff: 0x040,
  busError: 0x080,
  restarted: 0x100,
  counters: 0x200,
} as const;

/** Bits of the second data byte, where the class is `controller`. */
export const ControllerError = {
  receiveOverflow: 0x01,
  transmitOverflow: 0x02,
  receiveWarning: 0x04,
  transmitWarning: 0x08,
  receivePassive: 0x10,
  transmitPassive: 0x20,
  active: 0x40,
} as const;

/** Bits of the third data byte, where the class is `protocol`. */
export const ProtocolError = {
  bit: 0x01,
  form: 0x02,
  stuff: 0x04,
  dominantBit: 0x08,
  recessiveBit: 0x10,
} as const;

/** Where in a frame a protocol error was met: the fourth data byte. */
export const ProtocolPlace = { checksum: 0x08 } as const;

/** Data bytes of an error frame by what they hold. */
export const ErrorByte = {
  controller: 1,
  protocol: 2,
  place: 3,
  transmitCount: 6,
  receiveCount: 7,
} as const;

const OVERFLOW = ControllerError.receiveOverflow | ControllerError.transmitOverflow;
const WARNING = ControllerError.receiveWarning | ControllerError.transmitWarning;
const PASSIVE = ControllerError.receivePassive | ControllerError.transmitPassive;

/** Identifier bits that are a kind by themselves. */
const BY_CLASS: readonly [number, ErrorKind][] = [
  [ErrorClass.transmitTimeout, "transmit-timeout"],
  [ErrorClass.lostArbitration, "lost-arbitration"],
  [ErrorClass.protocol, "protocol-violation"],
  [ErrorClass.transceiver, "transceiver"],
  [ErrorClass.noAcknowledge, "no-acknowledge"],
  [ErrorClass.busOff, "bus-off"],
  [ErrorClass.busError, "bus-error"],
  [ErrorClass.restarted, "restarted"],
];

const BY_CONTROLLER: readonly [number, ErrorKind][] = [
  [OVERFLOW, "overflow"],
  [WARNING, "error-warning"],
  [PASSIVE, "error-passive"],
  [ControllerError.active, "error-active"],
];

/** The kinds in an error frame: its identifier, and its `length` data bytes at `at`. */
export function errorKinds(
  identifier: number,
  data: Uint8Array,
  at: number,
  length: number,
): ErrorKind[] {
  const kinds = BY_CLASS.filter(([bit]) => (identifier & bit) !== 0).map(([, kind]) => kind);
  if ((identifier & ErrorClass.controller) !== 0 && length > ErrorByte.controller) {
    const controller = data[at + ErrorByte.controller];
    kinds.push(
      ...BY_CONTROLLER.filter(([bits]) => (controller & bits) !== 0).map(([, kind]) => kind),
    );
  }
  return kinds;
}
