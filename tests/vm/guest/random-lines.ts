/** Numbers that are the same in every run: a linear congruential generator (Numerical Recipes). */
export function randomNumbers(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor(state / 2 ** 32 * below);
  };
}

const hexadecimal = (value: number, digits: number): string =>
  value.toString(16).toUpperCase().padStart(digits, "0");

/** `29`: half are J1939's kind, the rest 11-bit, remote and error frames. */
export type Mix = "every kind" | "29-bit";

/**
 * Candump lines of random frames.
 * @param every time between two frames in seconds
 */
export function randomLines(name: string, count: number, mix: Mix, every: number): string {
  const random = randomNumbers(count);
  return Array.from({ length: count }, (_, index) => {
    const kind = mix === "29-bit" ? 0 : random(6);
    const length = random(9);
    const data = Array.from({ length }, () => hexadecimal(random(256), 2)).join("");
    const eight = Array.from({ length: 8 }, () => hexadecimal(random(256), 2)).join("");
    const remote = length === 0 ? "R" : `R${length}`;
    const long = hexadecimal(random(2 ** 29), 8);
    const short = hexadecimal(random(2 ** 11), 3);
    const frame = [
      `${long}#${data}`,
      `${long}#${data}`,
      `${short}#${data}`,
      `${long}#${remote}`,
      `${short}#${remote}`,
      `${hexadecimal(0x20000001 + random(0x3ff), 8)}#${eight}`,
    ][kind];
    return `(${(1_000_000_000 + index * every).toFixed(6)}) ${name} ${frame}\n`;
  }).join("");
}
