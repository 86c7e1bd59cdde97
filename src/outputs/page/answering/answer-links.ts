import type { AnswerClaims } from "../../../alarms/answer-token.ts";
import type { AlarmStatus, AnswerOutcome } from "../../../alarms/change.ts";

/** What a link is about, before anybody acts on it. `refused` is a sentence for a person. */
export type LinkSubject =
  | {
    readonly usable: true;
    readonly claims: AnswerClaims;
    /** False where only the boat can tell whether the claims are hers: they are never shown. */
    readonly isProven: boolean;
    /** "Hazel Comfort" */
    readonly boat: string;
    /** Of the rule; undefined where nobody here knows it. */
    readonly title: string | undefined;
    /** The alarm as it stands; undefined where nothing is known of it, or nothing may be shown. */
    readonly status: AlarmStatus | undefined;
  }
  | { readonly usable: false; readonly refused: string };

/** The answers that links carry, as the page needs them. `commands/` knows the key. */
export interface AnswerLinks {
  look(token: string): LinkSubject;
  /**
   * Does what the link says. Whoever calls it has seen that it is usable.
   * @param address from which it was asked, so that nobody can ask without end
   */
  answer(token: string, claims: AnswerClaims, address: string): Promise<AnswerOutcome>;
}
