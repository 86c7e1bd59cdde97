import { type AnswerClaims, answerOf, claimsIn, readAnswer } from "../../alarms/answer-token.ts";
import type { AnswerOutcome } from "../../alarms/change.ts";
import type { Micros } from "../../ground/time.ts";
import { NOT_HEARD } from "../../outputs/mqtt/shore/boat-heard.ts";
import type { AnswerLinks, LinkSubject } from "../../outputs/page/answering/answer-links.ts";
import { boatTitle } from "../../outputs/page/names.ts";
import type { AshoreBoat } from "../shore/ashore-boat.ts";

export interface ShoreLinksParts {
  /** The shore's own key: of the links in messages that the shore itself sends. */
  readonly key: Uint8Array;
  readonly boatOf: (name: string) => AshoreBoat | undefined;
  /** Wall time. */
  readonly wall: () => Micros;
}

/**
 * Links as the shore sees them. Those of a boat's messages it cannot prove, since the key is aboard:
 * it shows what they say they are about, and carries them to the boat, which judges. Those about
 * *boat not heard* are its own.
 */
export function shoreLinks({ key, boatOf, wall }: ShoreLinksParts): AnswerLinks {
  const subjectOf = (claims: AnswerClaims): LinkSubject => {
    const boat = boatOf(claims.boat);
    if (boat === undefined) {
      return { usable: false, refused: "That link is of a boat that is not followed here." };
    }
    const status = boat.alarms().find(({ tag, subject }) =>
      tag === claims.tag && subject === claims.subject
    );
    return { usable: true, claims, boat: boatTitle(claims.boat), status };
  };
  return {
    look(token) {
      const claims = claimsIn(token);
      if (claims?.tag === NOT_HEARD || claims === undefined) {
        const read = readAnswer(token, key, wall());
        return read.read ? subjectOf(read.claims) : { usable: false, refused: read.refused };
      }
      if (wall() <= claims.expires) return subjectOf(claims);
      return { usable: false, refused: "That link is too old to be used. Nothing was changed." };
    },
    async answer(token, claims): Promise<AnswerOutcome> {
      const boat = boatOf(claims.boat);
      if (boat === undefined) {
        return { accepted: false, refused: "That boat is not followed here." };
      }
      return claims.tag === NOT_HEARD
        ? await boat.answer(answerOf(claims))
        : await boat.follower.relay(token, claims.action === "shelve" ? "shelve" : "acknowledge");
    },
  };
}
