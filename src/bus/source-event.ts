import type { Micros } from "../ground/time.ts";

/**
 * What befalls a live source; whoever opened it may be told. An event comes before the frames that
 * follow it. Reasons are clauses: "the other side closed the connection".
 */
export type SourceEvent =
  | { readonly kind: "connected" }
  | { readonly kind: "lost"; readonly reason: string; readonly retryIn: Micros }
  | { readonly kind: "refused"; readonly reason: string; readonly retryIn: Micros }
  /** The interface is there but switched off; nothing comes until it is switched on. */
  | { readonly kind: "interface-down"; readonly interface: string }
  | { readonly kind: "interface-up" }
  /** The adapter's controller changed its state because of errors on the bus. */
  | { readonly kind: "controller"; readonly state: ControllerState }
  /** Frames were lost before they could be read; `count` since the last such event. */
  | { readonly kind: "dropped"; readonly count: number }
  /** The adapter's own buffer ran over: it lost at least one frame. Told once while connected. */
  | { readonly kind: "overflow" }
  /** So many lines since the source was opened are no frames; the last of them. */
  | {
    readonly kind: "malformed";
    readonly count: number;
    readonly found: string;
    readonly expected: string;
  }
  /** The operating system keeps only so many frames for us while this computer is busy. */
  | { readonly kind: "small-buffer"; readonly frames: number }
  /** The wall clock was set: stamps of later frames are `by` later than they would have been. */
  | { readonly kind: "clock-step"; readonly by: Micros };

export type ControllerState = "error-active" | "error-warning" | "error-passive" | "bus-off";
