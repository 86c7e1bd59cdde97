import { Quality } from "../../boat/quality.ts";
import type { Micros } from "../../ground/time.ts";
import { distanceBetween, type Point, positionNow, type PositionSignals } from "./distance-from.ts";
import type { Measure, MeasureRecord, Readings } from "./measure.ts";

/**
 * How many metres lie between the boat and where she lay when a person said that she is anchored; for
 * `moved`. Not known while she is not. That place survives a restart.
 */
export class DistanceFromAnchor implements Measure {
  figure = NaN;
  readonly isKept = true;
  readonly isOfAnswers = false;
  readonly nextDue: Micros = Infinity;
  #anchor: Point | null = null;

  /** @param condition number of the signal `boat/condition` */
  constructor(readonly position: PositionSignals, readonly condition: number) {}

  follow({ table }: Readings): void {
    const { condition } = this;
    const isKnown = condition >= 0 && table.qualities[condition] === Quality.good;
    if (isKnown && table.word(condition) !== "anchored") this.#anchor = null;
    const here = positionNow(table, this.position);
    if (isKnown && table.word(condition) === "anchored") this.#anchor ??= here;
    this.figure = here === null || this.#anchor === null
      ? NaN
      : distanceBetween(this.#anchor, here);
  }

  adopt(earlier: Measure): void {
    if (earlier instanceof DistanceFromAnchor) this.#anchor = earlier.#anchor;
  }

  keep(): MeasureRecord | null {
    if (this.#anchor === null) return null;
    return { anchor: [this.#anchor.latitude, this.#anchor.longitude] };
  }

  recall({ anchor }: MeasureRecord): void {
    if (anchor === undefined || anchor.length !== 2) return;
    this.#anchor = { latitude: anchor[0], longitude: anchor[1] };
  }
}
