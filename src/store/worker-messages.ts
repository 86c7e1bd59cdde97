import type { Micros } from "../ground/time.ts";
import type { Sheet } from "./history.ts";
import type { MinuteRecord } from "./minute-record.ts";
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
  | HistoryRequest
  | { readonly kind: "close" };

export type HistoryRequest =
  | {
    readonly kind: "add-minutes";
    readonly records: readonly MinuteRecord[];
    readonly boot: string;
  }
  | { readonly kind: "restamp"; readonly boot: string; readonly minutes: number }
  | {
    readonly kind: "sheets";
    readonly after: number;
    readonly limit: number;
    readonly boot: string;
  }
  | { readonly kind: "records"; readonly name: string; readonly from: number; readonly to: number }
  | { readonly kind: "sheet-mark"; readonly outlet: string }
  | { readonly kind: "settle-sheets"; readonly outlet: string; readonly number: number }
  | {
    readonly kind: "forget-minutes";
    readonly before: Micros;
    readonly mostBytes: number;
    readonly boot: string;
  };

export type StoreReply =
  | {
    readonly kind: "opened";
    readonly epoch: string;
    readonly lastNumber: number;
    readonly lastSheet: number;
  }
  | { readonly kind: "saved" }
  | { readonly kind: "documents"; readonly documents: ReadonlyMap<string, string> }
  | { readonly kind: "events"; readonly events: readonly EventText[] }
  | { readonly kind: "mark"; readonly number: number }
  | { readonly kind: "forgotten" }
  | { readonly kind: "sheet-number"; readonly number: number }
  | { readonly kind: "sheets"; readonly sheets: readonly Sheet[] }
  | { readonly kind: "records"; readonly records: readonly MinuteRecord[] }
  | { readonly kind: "done" }
  | { readonly kind: "closed" }
  | { readonly kind: "failed"; readonly why: string };
