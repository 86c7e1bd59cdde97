import { type AnswerClaims, signAnswer } from "../../alarms/answer-token.ts";
import { DAY, type Micros } from "../../ground/time.ts";

/** A weekend and a bit: later, whoever finds the message had better look at the boat herself. */
export const LINK_HOLDS: Micros = 3 * DAY;

export interface LinkAddressParts {
  /** `https://boat.example:8250`, where a phone reaches the page. */
  readonly base: string;
  readonly boat: string;
  readonly key: Uint8Array;
  /** Wall time. */
  readonly wall: () => Micros;
}

/** Makes the address under which one person answers one raising by one touch and one button. */
export function linkAddress({ base, boat, key, wall }: LinkAddressParts) {
  return (
    alarm: Pick<AnswerClaims, "tag" | "subject" | "occurrence">,
    action: AnswerClaims["action"],
    person: string,
  ): string => {
    const { tag, subject, occurrence } = alarm;
    const expires = wall() + LINK_HOLDS;
    const claims = { boat, tag, subject, occurrence, action, person, expires };
    return `${base}/answer/${signAnswer(claims, key)}`;
  };
}
