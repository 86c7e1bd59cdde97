import type { RunOrder, RunReport } from "./rehearsed-run.ts";

/** What a thread of a rehearsal is told: the order once, then a run at a time. */
export type WorkerRequest =
  | { readonly kind: "order"; readonly order: RunOrder }
  | { readonly kind: "run"; readonly first: number };

/** What it answers. */
export type WorkerReply =
  | { readonly kind: "report"; readonly report: RunReport }
  /** An input of the run cannot be opened. */
  | { readonly kind: "refused"; readonly first: number; readonly message: string };
