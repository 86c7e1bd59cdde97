import type { Micros } from "../../../ground/time.ts";
import type { Way } from "../way.ts";

/** A way with what all messages through it must know. */
export class AskedWay {
  /** Steady time before which the way has asked to be left alone. */
  notBefore: Micros = 0;
  /** Why, as a clause. */
  why = "";

  constructor(readonly way: Way) {}
}
