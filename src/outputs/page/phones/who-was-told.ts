import type { Micros } from "../../../ground/time.ts";

/** One message to one person, as the page shows it. */
export interface DeliveryLine {
  /** Fit for an HTML id, unique among the lines. */
  readonly id: string;
  readonly person: string;
  /** "mail", "push", "post" */
  readonly way: string;
  /** What it was about: "Low oil pressure under load, port". */
  readonly about: string;
  readonly state: "queued" | "sent" | "accepted" | "failed";
  /** When that state began; wall time. */
  readonly since: Micros;
  /** Why it waits or failed; empty where there is no need to say. */
  readonly why: string;
}

/** Who is told, and how that went. */
export interface WhoWasTold {
  /** The newest first. */
  readonly deliveries: readonly DeliveryLine[];
  /** Names of those who are told. */
  readonly people: readonly string[];
  /** True where it is the shore that tells, beside the boat, of which it knows nothing. */
  readonly isAshore: boolean;
}

/** What one way to one person answered to a test message. */
export interface TestAnswer {
  readonly person: string;
  readonly way: string;
  readonly accepted: boolean;
  /** Why not; empty where it was accepted. */
  readonly why: string;
}
