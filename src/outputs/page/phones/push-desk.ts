import type { AnswerOutcome } from "../../../alarms/change.ts";

/** How a device asks to be told by push messages; `commands/` keeps what it says. */
export interface PushDesk {
  /** The boat's public key for push services (RFC 8292), in base64url. */
  readonly publicKey: string;
  /** Names of those who can be told so; empty where nobody can. */
  readonly people: readonly string[];
  /** @param subscription as the browser gave it, not yet looked at */
  subscribe(subscription: unknown, person: string): Promise<AnswerOutcome>;
  unsubscribe(endpoint: string): Promise<AnswerOutcome>;
}
