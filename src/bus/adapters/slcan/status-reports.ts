import type { ControllerState } from "../../source-event.ts";
import {
  ControllerError,
  ErrorByte,
  ErrorClass,
  ProtocolError,
  ProtocolPlace,
} from "../../error-kinds.ts";

/** What a line without a frame reports, as the error frame that Linux would make of it. */
export interface Report {
  readonly identifier: number;
  readonly data: Uint8Array;
  /** True if frames were lost inside the adapter; how many it does not say. */
  readonly lost: boolean;
}

/** Error frames always have eight data bytes. */
const LENGTH = 8;

function report(identifier: number, set: Readonly<Record<number, number>>): Report {
  const data = new Uint8Array(LENGTH);
  for (const [at, value] of Object.entries(set)) data[Number(at)] = value;
  const overflow = (identifier & ErrorClass.controller) !== 0 &&
    (data[ErrorByte.controller] & ControllerError.receiveOverflow) !== 0;
  return { identifier, data, lost: overflow };
}

const STATES: Readonly<Record<string, ControllerState>> = {
  a: "error-active",
  w: "error-warning",
  p: "error-passive",
  b: "bus-off",
};

/** Bits of the controller's byte by state, for whichever side has the higher count. */
const SIDES: Readonly<Record<Exclude<ControllerState, "bus-off">, readonly [number, number]>> = {
  "error-active": [ControllerError.active, ControllerError.active],
  "error-warning": [ControllerError.transmitWarning, ControllerError.receiveWarning],
  "error-passive": [ControllerError.transmitPassive, ControllerError.receivePassive],
};

const STATE_LINE = /^s([awpb])(\d{3})(\d{3})$/;

/**
 * A line of the controller's state: `sp128008`, its letter, the receive and the transmit error count.
 * A state that did not change is no report.
 */
export class StateLines {
  #state: ControllerState = "error-active";

  /** Undefined: no line of this kind. */
  read(line: string): Report | "unchanged" | undefined {
    const parts = STATE_LINE.exec(line);
    if (parts === null) return undefined;
    const state = STATES[parts[1]];
    const [receive, transmit] = [Number(parts[2]), Number(parts[3])];
    if (state === this.#state) return "unchanged";
    this.#state = state;
    const counts = { [ErrorByte.transmitCount]: transmit, [ErrorByte.receiveCount]: receive };
    if (state === "bus-off") return report(ErrorClass.busOff | ErrorClass.counters, counts);
    const [transmitting, receiving] = SIDES[state];
    const controller = (transmit >= receive ? transmitting : 0) |
      (transmit <= receive ? receiving : 0);
    return report(ErrorClass.controller | ErrorClass.counters, {
      ...counts,
      [ErrorByte.controller]: controller,
    });
  }
}

const ERROR_LINE = /^e([0-8])([abBcfoOs]*)$/;
/** CAN_ERR_PROT_LOC_ACK of Linux's `can/error.h`. */
const ACKNOWLEDGE_SLOT = 0x19;

/** A line of errors on the bus: `e2cf`, their count and a letter for each. Undefined: no such line. */
export function readErrorLine(line: string): Report | undefined {
  const parts = ERROR_LINE.exec(line);
  if (parts === null || parts[2].length < Number(parts[1])) return undefined;
  let identifier = ErrorClass.protocol | ErrorClass.busError;
  let [controller, protocol, place] = [0, 0, 0];
  for (const letter of parts[2].slice(0, Number(parts[1]))) {
    if (letter === "a") {
      identifier |= ErrorClass.noAcknowledge;
      place = ACKNOWLEDGE_SLOT;
    } else if (letter === "b") protocol |= ProtocolError.dominantBit;
    else if (letter === "B") protocol |= ProtocolError.recessiveBit;
    else if (letter === "c") {
      protocol |= ProtocolError.bit;
      place = ProtocolPlace.checksum;
    } else if (letter === "f") protocol |= ProtocolError.form;
    else if (letter === "s") protocol |= ProtocolError.stuff;
    else {
      identifier |= ErrorClass.controller;
      controller = letter === "o"
        ? ControllerError.receiveOverflow
        : ControllerError.transmitOverflow;
    }
  }
  return report(identifier, {
    [ErrorByte.controller]: controller,
    [ErrorByte.protocol]: protocol,
    [ErrorByte.place]: place,
  });
}

/** Bits of the answer to `F`, as the protocol's first adapters (with an SJA1000) defined them. */
const Status = {
  receiveFull: 0x01,
  transmitFull: 0x02,
  warning: 0x04,
  overrun: 0x08,
  passive: 0x20,
  lostArbitration: 0x40,
  busError: 0x80,
} as const;
const LASTING = Status.warning | Status.passive;

const STATUS_LINE = /^F([0-9A-Fa-f]{2})$/;

/** Answers to the status question `F`. The adapter clears what it has told; two bits are states. */
export class StatusAnswers {
  #lasting = 0;

  /** Undefined: no line of this kind. */
  read(line: string): Report | "unchanged" | undefined {
    const parts = STATUS_LINE.exec(line);
    if (parts === null) return undefined;
    const status = parseInt(parts[1], 16);
    const changed = (status & LASTING) !== this.#lasting;
    this.#lasting = status & LASTING;
    const told = status & ~LASTING;
    if (!changed && told === 0) return "unchanged";
    let controller = 0;
    if ((told & (Status.overrun | Status.receiveFull)) !== 0) {
      controller |= ControllerError.receiveOverflow;
    }
    if ((told & Status.transmitFull) !== 0) controller |= ControllerError.transmitOverflow;
    if (changed) controller |= lastingBits(this.#lasting);
    const identifier = (controller === 0 ? 0 : ErrorClass.controller) |
      ((told & Status.lostArbitration) === 0 ? 0 : ErrorClass.lostArbitration) |
      ((told & Status.busError) === 0 ? 0 : ErrorClass.busError);
    return identifier === 0
      ? "unchanged"
      : report(identifier, { [ErrorByte.controller]: controller });
  }
}

function lastingBits(lasting: number): number {
  if ((lasting & Status.passive) !== 0) {
    return ControllerError.receivePassive | ControllerError.transmitPassive;
  }
  if ((lasting & Status.warning) !== 0) {
    return ControllerError.receiveWarning | ControllerError.transmitWarning;
  }
  return ControllerError.active;
}
