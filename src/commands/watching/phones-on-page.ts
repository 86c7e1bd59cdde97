import type { HailAnswer, Telling } from "../../outputs/page/phones/delivery-lines.ts";
import type { PhonesOutlet } from "./phones-opening.ts";

/** Who is told and how that went, as the page shows it. */
export function tellingOnPage(phones: PhonesOutlet, people: readonly string[]): Telling {
  return {
    people,
    deliveries: phones.standing().map(({ key, person, way, state, why, text, changed }) => ({
      id: key,
      person,
      way,
      about: text,
      state,
      since: changed,
      why,
    })),
  };
}

/** Sends a test every way to everybody. */
export async function hailOnPage(phones: PhonesOutlet): Promise<readonly HailAnswer[]> {
  const answers = await phones.hail();
  return answers.map(({ person, way, outcome, why }) => ({
    person,
    way,
    accepted: outcome === "accepted",
    why,
  }));
}
