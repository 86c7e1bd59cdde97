import type { Priority } from "../../alarms/words.ts";
import type { Micros } from "../../ground/time.ts";

/** One message to one person, the same in every way. */
export interface PhoneMessage {
  /** The same for every try of the same message, 32 characters of base64url. */
  readonly key: string;
  readonly person: string;
  /** `Hazel Comfort` */
  readonly boat: string;
  readonly priority: Priority;
  readonly about: "raised" | "returned";
  /** Whole, and short enough for a lock screen. */
  readonly text: string;
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
