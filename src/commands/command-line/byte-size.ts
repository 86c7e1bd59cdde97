import { CommandFailure } from "./exit-codes.ts";

/** Decimal, as cards and disks are sold. */
const FACTORS: Readonly<Record<string, number>> = { kB: 1e3, MB: 1e6, GB: 1e9 };
const SIZE = /^\s*(\d+(?:\.\d+)?)\s*(kB|MB|GB)\s*$/i;

/**
 * Bytes of a size such as "50 MB".
 * @throws {CommandFailure}
 */
export function readByteSize(option: string, text: string): number {
  const [, number, unit] = SIZE.exec(text) ?? [];
  const factor = Object.entries(FACTORS)
    .find(([name]) => name.toLowerCase() === unit?.toLowerCase())?.[1];
  if (factor === undefined || Number(number) === 0) {
    throw new CommandFailure(`${option}: found "${text}", expected a size such as 50 MB`);
  }
  return Math.round(Number(number) * factor);
}
