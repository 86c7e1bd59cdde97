import { type Unplaced, within } from "./fields.ts";

/*
 * What each sort of quantity can be in or near a boat. The limits are wide (common practice): they
 * are to catch a missing probe or a word of zeros, not a bad day. A boat below −50 °C is a fault.
 */

const COLDEST_KELVIN = 223.15;
const COLDEST_CELSIUS = -50;
const TURN = 2 * Math.PI;

/** Outside and inside air, up to 70 °C in the sun. */
export const airKelvin = <F extends Unplaced>(field: F) => within(COLDEST_KELVIN, 343.15, field);
/** Water around the boat. */
export const seaKelvin = <F extends Unplaced>(field: F) => within(263.15, 333.15, field);
/** Oil and coolant, up to 250 °C. */
export const oilKelvin = <F extends Unplaced>(field: F) => within(COLDEST_KELVIN, 523.15, field);
/** Any place, exhaust gas included. */
export const anyKelvin = <F extends Unplaced>(field: F) => within(COLDEST_KELVIN, 1500, field);

export const airCelsius = <F extends Unplaced>(field: F) => within(COLDEST_CELSIUS, 90, field);
export const oilCelsius = <F extends Unplaced>(field: F) => within(COLDEST_CELSIUS, 250, field);
export const gasCelsius = <F extends Unplaced>(field: F) => within(COLDEST_CELSIUS, 1200, field);
/** In one byte −40 °C is zero, and zero is no probe. */
export const coarseCelsius = <F extends Unplaced>(field: F) => within(-39.5, undefined, field);

/** Counted from −125, where a word of zeros lies. */
export const aboveEndOfScale = <F extends Unplaced>(field: F) => within(-124, undefined, field);
/** Against the air around: there is no less than nothing. */
export const gaugePressure = <F extends Unplaced>(field: F) => within(-102_000, undefined, field);
/** From the highest lakes to the deepest high. */
export const atmospheric = <F extends Unplaced>(field: F) => within(50_000, 115_000, field);
/** Never quite dry, not even in a desert: a word of zeros is no probe. */
export const humid = <F extends Unplaced>(field: F) => within(0.5, 105, field);

/** A full turn, and the rounding of one. */
export const direction = <F extends Unplaced>(field: F) => within(undefined, TURN + 0.001, field);
export const halfTurn = <F extends Unplaced>(field: F) => within(-TURN / 2, TURN / 2, field);
export const quarterTurn = <F extends Unplaced>(field: F) => within(-TURN / 4, TURN / 4, field);
export const north = <F extends Unplaced>(field: F) => within(-90, 90, field);
export const east = <F extends Unplaced>(field: F) => within(-180, 180, field);

/** Metres per second. */
export const boatSpeed = <F extends Unplaced>(field: F) => within(undefined, 100, field);
export const windSpeed = <F extends Unplaced>(field: F) => within(undefined, 120, field);
/** No sea is deeper. */
export const deep = <F extends Unplaced>(field: F) => within(undefined, 12_000, field);
/** Seconds of a day, a leap second included. */
export const ofDay = <F extends Unplaced>(field: F) => within(undefined, 86_401, field);

/** Direct current that was wired as it should be. */
export const forwardVoltage = <F extends Unplaced>(field: F) => within(-1, undefined, field);
export const turning = <F extends Unplaced>(field: F) => within(undefined, 12_000, field);
/** What cannot be nothing, such as the room of a tank: zero says that nobody has set it. */
export const some = <F extends Unplaced & { readonly resolution: number }>(field: F) =>
  within(field.resolution, undefined, field);
/** A sender may be a little off at either end. */
export const tankLevel = <F extends Unplaced>(field: F) => within(-10, 110, field);
export const charge = <F extends Unplaced>(field: F) => within(undefined, 100, field);
