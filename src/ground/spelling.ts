/**
 * The valid name that a person probably meant: the nearest by edits (insert, delete, replace, swap
 * of neighbours), if it is near enough; upper case and spaces count for nothing.
 */
export function nearestName(found: string, valid: Iterable<string>): string | undefined {
  const wanted = plain(found);
  let nearest: string | undefined;
  let least = Math.max(1, Math.floor(wanted.length / 3)) + 1;
  for (const name of valid) {
    const distance = edits(wanted, plain(name), least);
    if (distance < least) {
      least = distance;
      nearest = name;
    }
  }
  return nearest;
}

function plain(text: string): string {
  return text.toLowerCase().replaceAll(/[\s_]+/g, "-");
}

/** Optimal string alignment distance, given up (as `limit`) once it cannot be below `limit`. */
function edits(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) >= limit) return limit;
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let best = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        best = Math.min(best, beforeLast[j - 2] + 1);
      }
      row.push(best);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length];
}
