import type { Answer, AnswerOutcome } from "../../alarms/change.ts";
import type { BoatSaying } from "../../boat/boat-state.ts";
import type { Feed } from "./feed.ts";
import type { TestAnswer } from "./phones/who-was-told.ts";

/** What a person can do to one boat on her page; `commands/` does it. */
export interface BoatActions {
  /** @param isAfar true for whoever is not at the boat's own network */
  answer(answer: Answer, isAfar: boolean): AnswerOutcome | Promise<AnswerOutcome>;
  /** Says who is aboard, or that she is winterised; without it the page does not ask. */
  setCondition?(saying: BoatSaying, who: string): Promise<AnswerOutcome>;
  /** Sends a test every way to everybody; without it the page does not offer it. */
  hail?(): Promise<readonly TestAnswer[]>;
}

/** One boat's page: what it shows, and what can be done there. */
export interface BoatPage {
  readonly feed: Feed;
  readonly actions: BoatActions;
}
