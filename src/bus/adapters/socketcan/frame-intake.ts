import type { Micros } from "../../../ground/time.ts";
import type { SourceEvent } from "../../source-event.ts";
import { FRAME_BYTES, type FrameBatch } from "../../frame-batch.ts";
import { flagsOfWord, identifierOfWord } from "../../identifier-word.ts";
import type { SourceTally } from "../../source-tally.ts";
import { ControllerNews } from "../controller-news.ts";
import { ControlMessages } from "./control-messages.ts";
import { DropCount } from "./drop-count.ts";
import type { MessageSlots } from "./message-slots.ts";

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
  readonly #news: ControllerNews;

  constructor(parts: IntakeParts) {
    this.#parts = parts;
    this.#news = new ControllerNews(parts.told);
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
    this.#news.take(batch, index);
  }

  /** Takes up how many frames the kernel says were lost so far. */
  dropped(count: number): void {
    const { tally, told } = this.#parts;
    const more = this.#drops.since(count);
    if (more === 0) return;
    tally.counts.dropped += more;
    told?.({ kind: "dropped", count: more });
  }
}
