import type { TestAnswer, WhoWasTold } from "../../outputs/page/phones/who-was-told.ts";
import type { DeliveryStanding } from "../../outputs/phones/delivery/told-record.ts";
import type { PhonesOutlet } from "./phones-opening.ts";

/**
 * Who is told and how that went, as the page shows it.
 * @param standing the newest first
 */
export function whoWasTold(
  standing: readonly DeliveryStanding[],
  people: readonly { readonly name: string }[],
  isAshore: boolean,
): WhoWasTold {
  return {
    isAshore,
    people: people.map(({ name }) => name),
    deliveries: standing.map(({ key, person, way, state, why, text, changed }) => ({
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
