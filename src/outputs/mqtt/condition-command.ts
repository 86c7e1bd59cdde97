import { z } from "zod";
import { BOAT_CONDITIONS, type BoatCondition } from "../../boat/boat-state.ts";
import { nearestName } from "../../ground/spelling.ts";
import { misread, timed } from "./command-fields.ts";

const conditioning = timed.extend({ condition: z.string(), who: z.string().min(1).max(80) });

export type ReadCondition =
  | { readonly condition: BoatCondition; readonly who: string }
  | { readonly problem: string };

/** Who says that the boat is in which condition. */
export function readCondition(content: unknown): ReadCondition {
  const read = conditioning.safeParse(content);
  if (!read.success) return { problem: misread(read.error) };
  const { condition: found, who } = read.data;
  const condition = BOAT_CONDITIONS.find((word) => word === found);
  if (condition !== undefined) return { condition, who };
  const nearest = nearestName(found, BOAT_CONDITIONS);
  const meant = nearest === undefined ? "." : `; did you mean "${nearest}"?`;
  return {
    problem: `Found the condition "${found}", expected aboard, left, anchored or laid-up${meant}`,
  };
}
