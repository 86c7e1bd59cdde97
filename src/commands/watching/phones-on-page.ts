import type { TestAnswer, WhoWasTold } from "../../outputs/page/phones/who-was-told.ts";
import type { PhonesOutlet } from "./phones-opening.ts";

/** Who is told and how that went, as the page shows it. */
export function toldOnPage(phones: PhonesOutlet, people: readonly string[]): WhoWasTold {
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
export async function hailOnPage(phones: PhonesOutlet): Promise<readonly TestAnswer[]> {
  const answers = await phones.hail();
  return answers.map(({ person, way, outcome, why }) => ({
    person,
    way,
    accepted: outcome === "accepted",
    why,
  }));
}
