import type { AnswerClaims } from "../../../alarms/answer-token.ts";
import type { AlarmStatus, AnswerOutcome } from "../../../alarms/change.ts";

/** What a link is about, before anybody acts on it. `refused` is a sentence for a person. */
export type LinkSubject =
  | {
    readonly usable: true;
    readonly claims: AnswerClaims;
    /** "Hazel Comfort" */
    readonly boat: string;
    /** The alarm as it stands; undefined where nothing is known of it. */
    readonly status: AlarmStatus | undefined;
  }
  | { readonly usable: false; readonly refused: string };

/** The answers that links carry, as the page needs them. `commands/` knows the key. */
export interface AnswerLinks {
  look(token: string): LinkSubject;
  /** Does what the link says. Whoever calls it has seen that it is usable. */
  answer(token: string, claims: AnswerClaims): Promise<AnswerOutcome>;
}
