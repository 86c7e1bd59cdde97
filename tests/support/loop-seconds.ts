import process from "node:process";

/**
 * What a fixed loop takes of a processor: the same work on every machine, so that their speeds can be
 * compared, whatever else they have to do.
 */
export function loopSeconds(): number {
  const before = process.cpuUsage();
  let sum = 0;
  for (let turn = 0; turn < 50_000_000; turn++) sum = (Math.imul(sum, 31) + turn) | 0;
  const { user, system } = process.cpuUsage(before);
  return sum === 0.5 ? 0 : (user + system) / 1_000_000;
}
