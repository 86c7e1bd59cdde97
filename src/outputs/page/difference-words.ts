import type { UnitCode } from "../../units/codes.ts";
import { sayDifference } from "../../units/say.ts";
import type { OwnersUnits } from "../../units/units.ts";

/** How far two values lie apart. Percentages differ by points: 25 % above 33 % would be 41 %. */
export function differenceWords(difference: number, unit: UnitCode, owners: OwnersUnits): string {
  const words = sayDifference(difference, unit, owners);
  return unit === "%" ? words.replace("%", "points") : words;
}

/** With the owner's decimals a difference can read zero and not be. */
export function isTooSmallToSay(words: string): boolean {
  return /^[0.]+( |$)/.test(words);
}
