import { z } from "zod";
import { BOAT_SAYINGS, type BoatSaying } from "../../boat/boat-state.ts";
import { nearestName } from "../../ground/spelling.ts";
import { misread, timed } from "./command-fields.ts";

const conditioning = timed.extend({ condition: z.string(), who: z.string().min(1).max(80) });

export type ReadCondition =
  | { readonly condition: BoatSaying; readonly who: string }
  | { readonly problem: string };

/** Who says what of the boat. */
export function readCondition(content: unknown): ReadCondition {
  const read = conditioning.safeParse(content);
  if (!read.success) return { problem: misread(read.error) };
  const { condition: found, who } = read.data;
  const condition = BOAT_SAYINGS.find((word) => word === found);
  if (condition !== undefined) return { condition, who };
  const nearest = nearestName(found, BOAT_SAYINGS);
  const meant = nearest === undefined ? "." : `; did you mean "${nearest}"?`;
  return {
    problem:
      `Found the condition "${found}", expected aboard, left, anchored, laid-up, winterised or ` +
      `not-winterised${meant}`,
  };
}
