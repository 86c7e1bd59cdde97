import type { DeliveryStanding } from "../../outputs/phones/delivery/told-record.ts";

/** Says only what a person at the terminal should know: trouble once a message, and its end. */
export function deliveryNews(
  say: (sentence: string) => void,
): (standing: DeliveryStanding) => void {
  /** Keys of messages whose trouble was said. */
  const troubled = new Set<string>();
  return ({ key, person, state, tried, why }) => {
    if (state === "queued" && why !== "" && !troubled.has(key)) {
      troubled.add(key);
      say(`${person} could not be told yet: ${why}. It is tried again.`);
    } else if (state === "failed") {
      troubled.delete(key);
      say(`${person} could not be told, and it is not tried again: ${why}.`);
    } else if (state === "accepted") {
      troubled.delete(key);
      if (tried > 1) say(`${person} has been told, at try ${tried}.`);
    }
  };
}
