import { isoTime, type Micros, SECOND } from "../../src/ground/time.ts";
import { SpokenRecording } from "./spoken-recording.ts";

/**
 * What `run --json` says once the battery has got low, which it is from a time on for half a period.
 * On a busy computer the boat's time may have gone on by a moment when the message comes.
 */
export function saidLow(from: Micros): RegExp {
  const seconds = Array.from(
    { length: BATTERY_PERIOD / 2 },
    (_, second) => isoTime(from + second * SECOND, 3).slice(0, 19),
  );
  return new RegExp(`"to":"unacknowledged".*"time":"(${seconds.join("|")})`);
}

/** A boat with one battery, one rule about it, and a state folder; called dora. */
export const BATTERY_BOAT = {
  "boat.yaml": "boat: dora\nbatteries: { house: { instance: 0, nominal: 12 V } }\n",
  "rules.yaml": `alarms:
  - tag: house-voltage-low
    title: House battery low
    each: battery
    low: { signal: voltage, setpoint: 12 V }
    priority: warning
`,
};

/** Where its history and its events are found. */
export const BATTERY_VOLTAGE = "battery/house/voltage";

/** Seconds from one time when the battery gets low to the next; it is low for half of them. */
export const BATTERY_PERIOD = 10;

/**
 * Candump lines of that battery, a message a second; the same for the same seconds.
 * @param isLow whether it is low in a second, counted from the beginning
 */
export function batteryLines(
  begins: Micros,
  from: number,
  seconds: number,
  isLow = isLowByTurns,
): string {
  const story = new SpokenRecording(begins + from * SECOND);
  for (let second = 0; second < seconds; second++) {
    const voltage = isLow(from + second) ? 11.5 : 12.8;
    story.say(second, 127508, { instance: 0, voltage });
  }
  return story.text;
}

export function isLowByTurns(second: number): boolean {
  return second % BATTERY_PERIOD >= BATTERY_PERIOD / 2;
}
