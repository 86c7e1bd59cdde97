import { z } from "zod";
import type { Dimension } from "../../units/dimension.ts";
import { findUnit, nearestUnit, unitNames } from "../../units/units.ts";

/** The name of the unit in which an owner reads a dimension. */
function unitOf(dimension: Dimension) {
  const error = `a unit of ${dimension}: ${unitNames(dimension)}`;
  return z.string({ error }).transform((text, context) => {
    const unit = findUnit(text);
    if (unit?.dimension === dimension) return unit.name;
    const message = unit === undefined
      ? error
      : `${error}; ${unit.name} is one of ${unit.dimension}`;
    const nearest = unit === undefined ? nearestUnit(text, dimension)?.name : undefined;
    context.addIssue({ code: "custom", message, params: { nearest } });
    return z.NEVER;
  }).optional();
}

/** How the owner reads: `{ pressure: psi, temperature: °F }`. Time and counts have no choice. */
export const ownersUnitsSchema = z.strictObject({
  "pressure": unitOf("pressure"),
  "temperature": unitOf("temperature"),
  "voltage": unitOf("voltage"),
  "current": unitOf("current"),
  "charge": unitOf("charge"),
  "rotation": unitOf("rotation"),
  "flow": unitOf("flow"),
  "volume": unitOf("volume"),
  "share": unitOf("share"),
  "length": unitOf("length"),
  "speed": unitOf("speed"),
  "angle": unitOf("angle"),
  "turn": unitOf("turn"),
});
