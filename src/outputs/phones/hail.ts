import { isoTime, type Micros } from "../../ground/time.ts";
import { messageKey } from "./delivery/message-key.ts";
import type { PhoneMessage, Way } from "./way.ts";
import { clockWords } from "./words/clock-words.ts";

/** What one way answered to a test. */
export interface HailAnswer {
  readonly person: string;
  /** Empty where a person has no way at all. */
  readonly way: string;
  readonly outcome: "accepted" | "refused" | "not-reached";
  /** Why it was not accepted, as a clause; else empty. */
  readonly why: string;
}

export interface HailOrder {
  readonly people: readonly { readonly name: string; readonly ways: readonly Way[] }[];
  /** `Hazel Comfort` */
  readonly boat: string;
  /** IANA name of the owner's time zone. */
  readonly timeZone: string;
  readonly wall: Micros;
  readonly cut: AbortSignal;
}

/**
 * A test message through every way to every person, each tried once, all at the same time.
 * @returns an answer for each, in the order of people and ways
 */
export async function hail(order: HailOrder): Promise<readonly HailAnswer[]> {
  const answers = await Promise.all(
    order.people.map(({ name, ways }): Promise<HailAnswer[]> => {
      if (ways.length > 0) return Promise.all(ways.map((way) => hailOne(name, way, order)));
      const why = "there is no way to this person";
      return Promise.resolve([{ person: name, way: "", outcome: "not-reached", why }]);
    }),
  );
  return answers.flat();
}

/** `Ellen, post: push.example answered 404` */
export function answerWords({ person, way, outcome, why }: HailAnswer): string {
  const head = way === "" ? person : `${person}, ${way}`;
  switch (outcome) {
    case "accepted":
      return `${head}: accepted`;
    case "refused":
      return `${head}: refused, ${why}`;
    case "not-reached":
      return `${head}: could not be reached, ${why}`;
  }
}

async function hailOne(
  person: string,
  way: Way,
  { boat, timeZone, wall, cut }: HailOrder,
): Promise<HailAnswer> {
  const message: PhoneMessage = {
    key: messageKey("hail", isoTime(wall, 6), `${person} ${way.name}`),
    person,
    boat,
    priority: "warning",
    about: "hail",
    text: `${boat}: a test, sent at ${clockWords(wall, wall, timeZone)}. Nothing is wrong. ` +
      `An alarm would reach you this way too.`,
    signal: "",
    answers: [],
    time: wall,
  };
  const outcome = await way.send(message, cut).catch((error) => ({
    kind: "try-again" as const,
    // An error's own words may hold an address, and with it a secret.
    why: error instanceof Error ? error.name : "an error",
  }));
  const answer = { person, way: way.name };
  if (outcome.kind === "accepted") return { ...answer, outcome: "accepted", why: "" };
  const kind = outcome.kind === "refused" ? "refused" : "not-reached";
  return { ...answer, outcome: kind, why: outcome.why };
}
