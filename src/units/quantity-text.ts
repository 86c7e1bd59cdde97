import { z } from "zod";
import { type Dimension, DIMENSIONS } from "./dimension.ts";
import { parseQuantity, parseRange } from "./quantity.ts";

/** The values that a quantity may take, in the dimension's base unit, and how to say so. */
export interface Bounds {
  readonly over?: number;
  readonly from?: number;
  readonly to?: number;
  /** Ends "expected …". */
  readonly words: string;
}

/** A schema that takes `2600 rpm` and gives 2600, in the dimension's base unit. */
export function quantityText(dimension: Dimension, bounds?: Bounds) {
  const { words, example } = DIMENSIONS[dimension];
  return z.string({ error: `${words} with its unit, such as ${example}` })
    .transform((text, context) => {
      const read = parseQuantity(text, dimension);
      if (!read.ok) {
        context.addIssue({
          code: "custom",
          message: read.expected,
          params: { nearest: read.nearest },
        });
        return z.NEVER;
      }
      if (bounds !== undefined && !lies(read.value, bounds)) {
        context.addIssue({ code: "custom", message: bounds.words });
      }
      return read.value;
    });
}

/** A schema that takes `3..8 A` and gives both ends; `high` lies outside. */
export function rangeText(dimension: Dimension, example: string) {
  return z.string({ error: `a range with its unit, such as ${example}` })
    .transform((text, context) => {
      const read = parseRange(text, dimension, example);
      if (read.ok) return read.range;
      context.addIssue({
        code: "custom",
        message: read.expected,
        params: { nearest: read.nearest },
      });
      return z.NEVER;
    });
}

function lies(value: number, { over, from, to }: Bounds): boolean {
  return (over === undefined || value > over) && (from === undefined || value >= from) &&
    (to === undefined || value <= to);
}
