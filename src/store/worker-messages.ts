import type { Micros } from "../ground/time.ts";
import type { DocumentKind } from "./store.ts";
import type { EventText, Work } from "./work.ts";

/** What the program asks of the store's worker; every request gets one reply, in the same order. */
export type StoreRequest =
  | { readonly kind: "open"; readonly folder: string }
  | { readonly kind: "save"; readonly work: Work }
  | { readonly kind: "documents"; readonly of: DocumentKind }
  | { readonly kind: "events"; readonly after: number; readonly limit: number }
  | { readonly kind: "mark"; readonly outlet: string; readonly unseen: "first" | "last" }
  | { readonly kind: "forget"; readonly outlet: string; readonly before: Micros }
  | { readonly kind: "close" };

export type StoreReply =
  | { readonly kind: "opened"; readonly epoch: string; readonly lastNumber: number }
  | { readonly kind: "saved" }
  | { readonly kind: "documents"; readonly documents: ReadonlyMap<string, string> }
  | { readonly kind: "events"; readonly events: readonly EventText[] }
  | { readonly kind: "mark"; readonly number: number }
  | { readonly kind: "forgotten" }
  | { readonly kind: "closed" }
  | { readonly kind: "failed"; readonly why: string };
