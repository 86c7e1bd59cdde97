import { answerOf, readAnswer, type ReadToken } from "../../alarms/answer-token.ts";
import type { AlarmStatus, Answer, AnswerOutcome } from "../../alarms/change.ts";
import type { Micros } from "../../ground/time.ts";
import type { ProveToken } from "../../outputs/mqtt/answer-by-token.ts";
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

/** The links of this boat's own messages, as the page follows them and as the broker brings them. */
export interface BoatLinks extends AnswerLinks {
  readonly proveToken: ProveToken;
}

/** Whoever uses a link is afar: a message reaches anywhere. */
export function boatLinks({ boat, key, statuses, wall, answer }: BoatLinksParts): BoatLinks {
  const prove = (token: string): ReadToken => {
    const read = readAnswer(token, key, wall());
    if (!read.read || read.claims.boat === boat) return read;
    return { read: false, why: "not-ours", refused: "That link is of another boat." };
  };
  return {
    look(token) {
      const read = prove(token);
      if (!read.read) return { usable: false, refused: read.refused };
      const { claims } = read;
      const status = statuses().find(({ tag, subject }) =>
        tag === claims.tag && subject === claims.subject
      );
      return {
        usable: true,
        isProven: true,
        claims,
        boat: boatTitle(boat),
        title: status?.title,
        status,
      };
    },
    answer: (_, claims) => answer(answerOf(claims), true),
    proveToken(token) {
      const read = prove(token);
      return read.read ? { answer: answerOf(read.claims) } : { problem: read.refused };
    },
  };
}
