import { answerOf, readAnswer } from "../../alarms/answer-token.ts";
import type { AlarmStatus, Answer, AnswerOutcome } from "../../alarms/change.ts";
import type { Micros } from "../../ground/time.ts";
import type { AnswerLinks } from "../../outputs/page/answering/answer-links.ts";
import { boatTitle } from "../../outputs/page/names.ts";

export interface BoatLinksParts {
  /** As in the boat file. */
  readonly boat: string;
  readonly key: Uint8Array;
  readonly statuses: () => readonly AlarmStatus[];
  /** Wall time. */
  readonly wall: () => Micros;
  readonly answer: (answer: Answer, isAfar: boolean) => Promise<AnswerOutcome>;
}

/** The links of this boat's own messages. Whoever uses one is afar: a message reaches anywhere. */
export function boatLinks({ boat, key, statuses, wall, answer }: BoatLinksParts): AnswerLinks {
  return {
    look(token) {
      const read = readAnswer(token, key, wall());
      if (!read.read) return { usable: false, refused: read.refused };
      const { claims } = read;
      if (claims.boat !== boat) return { usable: false, refused: "That link is of another boat." };
      const status = statuses().find(({ tag, subject }) =>
        tag === claims.tag && subject === claims.subject
      );
      return { usable: true, claims, boat: boatTitle(boat), status };
    },
    answer: (_, claims) => answer(answerOf(claims), true),
  };
}
