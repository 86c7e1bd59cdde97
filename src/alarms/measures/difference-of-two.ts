import type { Micros } from "../../ground/time.ts";
import { goodValue } from "./good-value.ts";
import type { Measure, Readings } from "./measure.ts";

/** How far two signals of one unit lie apart, whichever is the greater; for `deviation`. */
export class DifferenceOfTwo implements Measure {
  figure = NaN;
  readonly isKept = false;
  readonly nextDue: Micros = Infinity;

  /** @param asShare as a percentage of the greater one */
  constructor(readonly one: number, readonly other: number, readonly asShare: boolean) {}

  follow({ table }: Readings): void {
    const one = goodValue(table, this.one);
    const other = goodValue(table, this.other);
    const apart = Math.abs(one - other);
    if (!this.asShare || apart === 0) this.figure = apart;
    else this.figure = 100 * apart / Math.max(Math.abs(one), Math.abs(other));
  }

  adopt(): void {}

  keep(): null {
    return null;
  }

  recall(): void {}
}
