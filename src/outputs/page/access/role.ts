/** What somebody may do on the page: look, or also answer alarms and say who is aboard. */
export type Role = "watch" | "act";

/** Whoever asks for the page, once they are let in. */
export interface Visitor {
  readonly role: Role;
  /** Who is said to have answered. */
  readonly who: string;
  /** Stands in every form that they are given, and must come back with it. */
  readonly formToken: string;
  /** False on this computer itself where no passphrase is set: there is nothing to sign out of. */
  readonly signedIn: boolean;
  /** False once they have signed out or their session is too old. */
  readonly isStillIn: () => boolean;
}
