/** What was counted on a bus over some time in which it should have been quiet. */
export interface BusFaults {
  /** Mean of error frames a second. */
  readonly errorFrames: number;
  /** Messages lost in holes, a second. */
  readonly lostMessages: number;
  /** The adapter fell silent because of errors ("bus off"). */
  readonly busOff: boolean;
}

/** Rates from which a cable, a terminator or a connector is to be looked for; judgement. */
const MANY_ERRORS = 1;
const MANY_LOST = 1;

const MEASURE =
  "Power off, measure between the two data lines: 60 Ω is right, 120 one terminator " +
  "missing, 40 one too many (an adapter's own terminator is the usual third).";

/**
 * What an owner can do about a bus with errors; undefined where there is nothing to do. Two
 * terminators of 120 Ω stand at the ends of the backbone (ISO 11898-2).
 */
export function terminationWords(faults: BusFaults): string | undefined {
  const { errorFrames, lostMessages, busOff } = faults;
  if (busOff) return `The adapter has fallen silent because of errors on the bus. ${MEASURE}`;
  if (errorFrames >= MANY_ERRORS) return `Frames are destroyed on the bus. ${MEASURE}`;
  if (lostMessages >= MANY_LOST) return `Messages arrive with holes. ${MEASURE}`;
  return undefined;
}
