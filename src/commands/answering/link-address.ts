import { type AnswerClaims, signAnswer } from "../../alarms/answer-token.ts";
import { isCredible } from "../../ground/clock.ts";
import { DAY, type Micros } from "../../ground/time.ts";

/** A weekend and a bit: later, whoever finds the message had better look at the boat herself. */
export const LINK_HOLDS: Micros = 3 * DAY;

/** From 1970, while the clock is not set: the occurrence alone says when a link is too old. */
const UNTIL_SET: Micros = 100 * 365 * DAY;

type Raising = Pick<AnswerClaims, "tag" | "subject" | "occurrence">;

export interface LinkAddressParts {
  /** `https://boat.example:8250`, where a phone reaches the page. */
  readonly base: string;
  /** Whose alarm it is, as in the boat file. */
  readonly boatOf: (alarm: Raising) => string;
  readonly key: Uint8Array;
  /** Wall time. */
  readonly wall: () => Micros;
}

/** Makes the address under which one person answers one raising by one touch and one button. */
export function linkAddress({ base, boatOf, key, wall }: LinkAddressParts) {
  return (
    alarm: Raising,
    action: AnswerClaims["action"],
    person: string,
  ): string => {
    const { tag, subject, occurrence } = alarm;
    const now = wall();
    const expires = now + (isCredible(now) ? LINK_HOLDS : UNTIL_SET);
    const boat = boatOf(alarm);
    const claims = { boat, tag, subject, occurrence, action, person, expires };
    return `${base}/answer/${signAnswer(claims, key)}`;
  };
}
