import { z } from "zod";

z.config({ jitless: true });

export const LONGEST_NAME = 40;

/** Who is said to have answered where nobody gave a name. */
export const ANSWERED_HERE = "the page";

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
  return { who: read.data.who || ANSWERED_HERE, passphrase: read.data.passphrase };
}
