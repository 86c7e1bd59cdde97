import type { Micros } from "../../../ground/time.ts";
import type { ControllerState, SourceEvent } from "../../source-event.ts";
import { type ErrorKind, errorKinds } from "../../error-kinds.ts";
import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../../frame-batch.ts";
import { flagsOfWord, identifierOfWord } from "../../identifier-word.ts";
import type { SourceTally } from "../../source-tally.ts";
import { ControlMessages } from "./control-messages.ts";
import { DropCount } from "./drop-count.ts";
import type { MessageSlots } from "./message-slots.ts";

const STATES: Readonly<Partial<Record<ErrorKind, ControllerState>>> = {
  "bus-off": "bus-off",
  "restarted": "error-active",
  "error-passive": "error-passive",
  "error-warning": "error-warning",
  "error-active": "error-active",
};

export interface IntakeParts {
  readonly slots: MessageSlots;
  readonly tally: SourceTally;
  /** Bus number of the interface. */
  readonly bus: number;
  /** Stands in where the kernel gave no stamp. */
  readonly now: () => Micros;
  readonly told?: (event: SourceEvent) => void;
}

/** Frames out of the slots that the kernel filled, and what it says beside them. */
export class FrameIntake {
  readonly #parts: IntakeParts;
  readonly #control = new ControlMessages();
  readonly #drops = new DropCount();
  #state: ControllerState = "error-active";

  constructor(parts: IntakeParts) {
    this.#parts = parts;
  }

  /** When the frame in a slot came; also counts what was lost before it. */
  open(slot: number): Micros {
    const { slots, now } = this.#parts;
    this.#control.read(slots.view, slots.controlAt(slot), slots.controlLength(slot));
    if (this.#control.dropped !== undefined) this.dropped(this.#control.dropped);
    return this.#control.stamp ?? now();
  }

  /** Adds the frame in a slot to a batch that has room. */
  add(slot: number, time: Micros, batch: FrameBatch): void {
    const { slots, tally, bus } = this.#parts;
    if (!slots.isFrame(slot)) {
      tally.malformed({ at: 0, found: "a packet of another length", expected: "a CAN frame" });
      return;
    }
    const index = batch.count++;
    const word = slots.word(slot);
    const flags = flagsOfWord(word);
    const length = slots.length(slot);
    batch.times[index] = time;
    batch.buses[index] = bus;
    batch.flags[index] = flags;
    batch.identifiers[index] = identifierOfWord(word, flags);
    batch.lengths[index] = length;
    const from = slots.dataAt(slot);
    const to = index * FRAME_BYTES;
    for (let i = 0; i < length; i++) batch.data[to + i] = slots.bytes[from + i];
    tally.frame(batch, index);
    if ((flags & FrameFlag.error) !== 0) this.#error(batch, index);
  }

  /** Takes up how many frames the kernel says were lost so far. */
  dropped(count: number): void {
    const { tally, told } = this.#parts;
    const more = this.#drops.since(count);
    if (more === 0) return;
    tally.counts.dropped += more;
    told?.({ kind: "dropped", count: more });
  }

  #error(batch: FrameBatch, index: number): void {
    const at = index * FRAME_BYTES;
    const kinds = errorKinds(batch.identifiers[index], batch.data, at, batch.lengths[index]);
    const state = kinds.map((kind) => STATES[kind]).find((found) => found !== undefined);
    if (state === undefined || state === this.#state) return;
    this.#state = state;
    this.#parts.told?.({ kind: "controller", state });
  }
}
