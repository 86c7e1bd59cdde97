import type { Micros } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import { Quality, Reason } from "./quality.ts";
import type { SignalTable } from "./signal-table.ts";

/** Quantity of the bit that says that the rule files lie there with a mistake. */
export const RULES_REFUSED = "rules-refused";
/** Quantity of how many alarms have not been made to sound for a season. */
export const PROOFS_DUE = "proofs-due";
/** How much of the disk with the state folder is free, of what may be written at all. */
export const DISK_FREE = "disk-free";
/** Whether the state folder takes what is to be kept. */
export const STATE_FOLDER = "state-folder";
/** Whether the broker that the settings name is reached. */
export const BROKER_LINK = "broker-link";
/** Whether the computer knows the time. */
export const CLOCK = "clock";

/** Codes of the words that `STATE_FOLDER`, `BROKER_LINK` and `CLOCK` read. */
export const StateFolder = { failing: 0, written: 1 } as const;
export const BrokerLink = { away: 0, connected: 1 } as const;
export const ClockState = { unset: 0, set: 1 } as const;

interface Facts {
  readonly unit: UnitCode;
  readonly decimals: number;
  readonly span: number | null;
  readonly words: ReadonlyMap<number, string> | null;
  readonly deadband: number;
}

const COUNT: Facts = { unit: "1", decimals: 0, span: null, words: null, deadband: 0 };

function ofWords(codes: Readonly<Record<string, number>>): Facts {
  const words = new Map(Object.entries(codes).map(([word, code]) => [code, word]));
  return { ...COUNT, unit: "", words };
}

/** What the program can say of itself. */
export const COMPUTER_QUANTITIES = {
  [RULES_REFUSED]: COUNT,
  [PROOFS_DUE]: COUNT,
  [DISK_FREE]: { ...COUNT, unit: "%", decimals: 1, span: 100, deadband: 0.5 },
  [STATE_FOLDER]: ofWords(StateFolder),
  [BROKER_LINK]: ofWords(BrokerLink),
  [CLOCK]: ofWords(ClockState),
} as const satisfies Readonly<Record<string, Facts>>;

export type ComputerQuantity = keyof typeof COMPUTER_QUANTITIES;

/** What the program knows of itself, as signals that no message carries and that never age. */
export class ComputerState {
  constructor(readonly table: SignalTable) {}

  /**
   * The signal is made when there is something to tell for the first time; a count of nothing is not.
   * @param value NaN while it is not known
   */
  note(quantity: ComputerQuantity, value: number, now: Micros): void {
    const { table } = this;
    const name = `computer/${quantity}`;
    const facts = COMPUTER_QUANTITIES[quantity];
    const known = table.find(name);
    if (known < 0 && (value === 0 && facts === COUNT || Number.isNaN(value))) return;
    const about = { name, group: "computer", subject: "", quantity, derived: true };
    const signal = known >= 0 ? known : table.intern({ ...about, ...facts });
    if (Object.is(table.values[signal], value)) return;
    if (Number.isNaN(value)) table.set(signal, NaN, Quality.bad, Reason.notAvailable, now);
    else table.set(signal, value, Quality.good, Reason.none, now);
  }
}
