import type { Micros } from "../../ground/time.ts";

const WORD = 2 ** 32;
/** The option's highest bit says that the rest is a power of two, else of ten. */
const POWER_OF_TWO = 0x80;

/** Resolution of the stamps of an interface that does not say: 10^-6. */
export const USUAL_RESOLUTION = 6;

/**
 * A pcapng stamp, two words of 32 bits, in microseconds (cut, not rounded). `resolution` is the byte
 * of the option if_tsresol. Exact although a count of nanoseconds is beyond what a double can hold:
 * the high word is divided first and its remainder goes on to the low word.
 */
export function captureMicros(high: number, low: number, resolution: number): Micros {
  if (resolution <= 6) return (high * WORD + low) * 10 ** (6 - resolution);
  if (resolution <= 12) {
    const divisor = 10 ** (resolution - 6);
    const whole = Math.floor(high / divisor);
    const rest = high - whole * divisor;
    return whole * WORD + Math.floor((rest * WORD + low) / divisor);
  }
  const ticks = BigInt(high) * BigInt(WORD) + BigInt(low);
  const base = (resolution & POWER_OF_TWO) === 0 ? 10n : 2n;
  return Number(ticks * 1_000_000n / base ** BigInt(resolution & ~POWER_OF_TWO));
}
