/** What a fixed loop takes: the same work on every machine, so that their speeds can be compared. */
export function loopSeconds(): number {
  const begun = performance.now();
  let sum = 0;
  for (let turn = 0; turn < 50_000_000; turn++) sum = (Math.imul(sum, 31) + turn) | 0;
  return sum === 0.5 ? 0 : (performance.now() - begun) / 1_000;
}
