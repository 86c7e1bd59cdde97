import type { RunReport } from "./rehearsed-run.ts";

/** What a thread of a rehearsal answers when it is asked for the run that begins with an input. */
export type RunReply =
  | { readonly kind: "report"; readonly report: RunReport }
  /** An input of the run cannot be opened. */
  | { readonly kind: "refused"; readonly first: number; readonly message: string };
