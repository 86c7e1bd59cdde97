import { type AnswerClaims, answerOf, claimsIn, readAnswer } from "../../alarms/answer-token.ts";
import type { AlarmStatus, Answer, AnswerOutcome } from "../../alarms/change.ts";
import type { Clock } from "../../ground/clock.ts";
import { MINUTE } from "../../ground/time.ts";
import { NOT_HEARD } from "../../outputs/mqtt/shore/boat-heard.ts";
import { GuessLimit } from "../../outputs/page/access/guess-limit.ts";
import type { AnswerLinks, LinkSubject } from "../../outputs/page/answering/answer-links.ts";
import { boatTitle } from "../../outputs/page/names.ts";

/** A boat as far as links need her; `AshoreBoat` is one. */
export interface LinkedBoat {
  alarms(): readonly AlarmStatus[];
  answer(answer: Answer): Promise<AnswerOutcome>;
  readonly follower: {
    relay(token: string, command: "acknowledge" | "shelve"): Promise<AnswerOutcome>;
  };
}

export interface ShoreLinksParts {
  /** The shore's own key: of the links in messages that the shore itself sends. */
  readonly key: Uint8Array;
  readonly boatOf: (name: string) => LinkedBoat | undefined;
  readonly clock: Clock;
}

/**
 * Links that a boat may be asked to prove in a quarter of an hour, beside those that she proved:
 * each is a message on her costly link. A stranger who uses them all up leaves the page, with its
 * passphrase, to answer on.
 */
export const RELAYS_ALLOWED = { fromOne: 10, fromAll: 30 };

/**
 * Links as the shore sees them. Those of a boat's messages it cannot prove, since the key is aboard:
 * anybody could have made them up. So it shows no more than the boat and the title of the rule, and
 * carries them to the boat, which judges. Those about *boat not heard* are its own.
 */
export function shoreLinks({ key, boatOf, clock }: ShoreLinksParts): AnswerLinks {
  const relays = new Map<string, GuessLimit>();
  const proven = (claims: AnswerClaims): LinkSubject => {
    const status = boatOf(claims.boat)?.alarms().find(({ tag, subject }) =>
      tag === claims.tag && subject === claims.subject
    );
    return subjectOf(claims, { isProven: true, title: status?.title, status });
  };
  const unproven = (claims: AnswerClaims): LinkSubject => {
    const title = boatOf(claims.boat)?.alarms().find(({ tag }) => tag === claims.tag)?.title;
    return subjectOf(claims, { isProven: false, title, status: undefined });
  };
  const subjectOf = (
    claims: AnswerClaims,
    shown: Pick<Extract<LinkSubject, { usable: true }>, "isProven" | "title" | "status">,
  ): LinkSubject =>
    boatOf(claims.boat) === undefined
      ? { usable: false, refused: "That link is of a boat that is not followed here." }
      : { usable: true, claims, boat: boatTitle(claims.boat), ...shown };

  async function relay(
    boat: LinkedBoat,
    token: string,
    { boat: name, action }: AnswerClaims,
    address: string,
  ): Promise<AnswerOutcome> {
    const limit = relays.get(name) ?? new GuessLimit(RELAYS_ALLOWED);
    relays.set(name, limit);
    const asked = clock.steady();
    const wait = limit.admit(address, asked);
    if (wait > 0) {
      const minutes = Math.ceil(wait / MINUTE);
      const refused = `Too many links were tried. Try again in ${minutes} min, or on the page.`;
      return { accepted: false, refused };
    }
    const outcome = await boat.follower.relay(
      token,
      action === "shelve" ? "shelve" : "acknowledge",
    );
    if (outcome.accepted) limit.wasRight(address, asked);
    return outcome;
  }

  return {
    look(token) {
      const claims = claimsIn(token);
      if (claims?.tag === NOT_HEARD || claims === undefined) {
        const read = readAnswer(token, key, clock.wall());
        return read.read ? proven(read.claims) : { usable: false, refused: read.refused };
      }
      if (clock.wall() <= claims.expires) return unproven(claims);
      return { usable: false, refused: "That link is too old to be used. Nothing was changed." };
    },
    async answer(token, claims, address): Promise<AnswerOutcome> {
      const boat = boatOf(claims.boat);
      if (boat === undefined) {
        return { accepted: false, refused: "That boat is not followed here." };
      }
      return claims.tag === NOT_HEARD
        ? await boat.answer(answerOf(claims))
        : await relay(boat, token, claims, address);
    },
  };
}
