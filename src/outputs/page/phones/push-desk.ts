import type { AnswerOutcome } from "../../../alarms/change.ts";

/** How a phone asks to be told by the page's own push messages; `commands/` keeps what it says. */
export interface PushDesk {
  /** The boat's public key for the push service (RFC 8292), in base64url. */
  readonly publicKey: string;
  /** Names of those who can be told. */
  readonly people: readonly string[];
  /** @param subscription as the browser gave it */
  subscribe(subscription: unknown, person: string): Promise<AnswerOutcome>;
  unsubscribe(endpoint: string): Promise<AnswerOutcome>;
}
