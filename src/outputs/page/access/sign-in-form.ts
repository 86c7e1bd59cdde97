import { z } from "zod";
import { ANSWERED_ON_PAGE } from "../../../alarms/answer-words.ts";

z.config({ jitless: true });

export const LONGEST_NAME = 40;

const form = z.object({
  // A name goes into events and messages: it is one line.
  who: z.string().trim().max(LONGEST_NAME).regex(/^\P{C}*$/u).default(""),
  passphrase: z.string().min(1).max(1_000),
});

export interface SignIn {
  readonly who: string;
  readonly passphrase: string;
}

/** What somebody typed to be let in; undefined where it is not that form. */
export function readSignIn(given: unknown): SignIn | undefined {
  const read = form.safeParse(given);
  if (!read.success) return undefined;
  return { who: read.data.who || ANSWERED_ON_PAGE, passphrase: read.data.passphrase };
}
