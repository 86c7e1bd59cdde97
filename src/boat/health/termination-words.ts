/** What was counted on a bus over some time in which it should have been quiet. */
export interface BusFaults {
  /** Error frames of the wiring, a second. */
  readonly errorFrames: number;
  /** Messages lost in holes, a second. */
  readonly lostMessages: number;
  /** The adapter fell silent because of errors ("bus off"). */
  readonly busOff: boolean;
  /** There were error frames, and not one of any other kind. */
  readonly onlyErrors: boolean;
  /** Times that the adapter said that its buffer ran over. */
  readonly overflows: number;
}

/** Rates from which a cable, a terminator or a connector is to be looked for; judgement. */
const MANY_ERRORS = 1;
const MANY_LOST = 1;
const MANY_OVERFLOWS = 5;

const MEASURE =
  "Power off, measure between the two data lines: 60 Ω is right, 120 one terminator " +
  "missing, 40 one too many (an adapter's own terminator is the usual third).";

const BIT_RATE = "Not one whole frame came: commonly the bus runs at another bit rate (NMEA 2000 " +
  "at 250 kbit/s, J1939 at 250 or 500), which the boat file says under networks:, or the two data " +
  "lines are swapped. If neither:";

const OVERFLOW = "The adapter lost frames because its own buffer ran over: it, its line or this " +
  "computer is too slow for this bus. The wiring has nothing to do with it.";

/**
 * What an owner can do about a bus with errors; undefined where there is nothing to do. Two
 * terminators of 120 Ω stand at the ends of the backbone (ISO 11898-2).
 */
export function terminationWords(faults: BusFaults): string | undefined {
  const { errorFrames, lostMessages, busOff, onlyErrors, overflows } = faults;
  if (onlyErrors) return `${BIT_RATE} ${MEASURE.charAt(0).toLowerCase()}${MEASURE.slice(1)}`;
  if (busOff) return `The adapter has fallen silent because of errors on the bus. ${MEASURE}`;
  if (errorFrames >= MANY_ERRORS) return `Frames are destroyed on the bus. ${MEASURE}`;
  if (overflows >= MANY_OVERFLOWS) return OVERFLOW;
  if (lostMessages >= MANY_LOST) return `Messages arrive with holes. ${MEASURE}`;
  return undefined;
}
