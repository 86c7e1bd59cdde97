import type { Priority } from "../../alarms/words.ts";
import type { Micros } from "../../ground/time.ts";
import type { AnswerLink } from "./answer-link.ts";

/** One message to one person, the same in every way. */
export interface PhoneMessage {
  /** The same for every try of the same message, 32 characters of base64url. */
  readonly key: string;
  readonly person: string;
  /** `Hazel Comfort` */
  readonly boat: string;
  /** The highest of what it tells. */
  readonly priority: Priority;
  /**
   * An alarm that was raised, or only that alarms are over; a test of the ways (`hail`); how the
   * last day was (`daily-line`).
   */
  readonly about: "raised" | "returned" | "hail" | "daily-line";
  /** Whole, and short enough for a lock screen. */
  readonly text: string;
  /** Signal of the alarm, where the message is about one: for a picture of it. Else empty. */
  readonly signal: string;
  /** How it can be answered from the phone; empty where there is no way back to the boat. */
  readonly answers: readonly AnswerLink[];
  /** Wall time of the change. */
  readonly time: Micros;
}

/**
 * What became of one try. `why` is a clause for the owner: `post.example answered 503`; it never
 * holds an address or a password.
 */
export type SendOutcome =
  | { readonly kind: "accepted" }
  | { readonly kind: "try-again"; readonly why: string; readonly after?: Micros }
  | { readonly kind: "refused"; readonly why: string };

/** A way to a person's phone. */
export interface Way {
  /** Kept with what was told, so it stays the same over restarts: `post`. */
  readonly name: string;
  /** @param cut ends a try that is under way, at a stop */
  send(message: PhoneMessage, cut: AbortSignal): Promise<SendOutcome>;
}
