import { type ErrorKind, errorKinds } from "../error-kinds.ts";
import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../frame-batch.ts";
import type { ControllerState, SourceEvent } from "../source-event.ts";

const STATES: Readonly<Partial<Record<ErrorKind, ControllerState>>> = {
  "bus-off": "bus-off",
  "restarted": "error-active",
  "error-passive": "error-passive",
  "error-warning": "error-warning",
  "error-active": "error-active",
};

/** What an adapter's error frames tell a person: a state once it changes, an overflow once. */
export class ControllerNews {
  #state: ControllerState = "error-active";
  #hasOverflowed = false;

  constructor(readonly told: (event: SourceEvent) => void = () => {}) {}

  /** The frame at `index` of a batch, whatever its kind. */
  take(batch: FrameBatch, index: number): void {
    if ((batch.flags[index] & FrameFlag.error) === 0) return;
    const at = index * FRAME_BYTES;
    const kinds = errorKinds(batch.identifiers[index], batch.data, at, batch.lengths[index]);
    if (kinds.includes("overflow") && !this.#hasOverflowed) {
      this.#hasOverflowed = true;
      this.told({ kind: "overflow" });
    }
    const state = kinds.map((kind) => STATES[kind]).find((found) => found !== undefined);
    if (state === undefined || state === this.#state) return;
    this.#state = state;
    this.told({ kind: "controller", state });
  }
}
