import { z } from "zod";

z.config({ jitless: true });

/** The id becomes part of a topic, so it is letters, digits, dots, hyphens and underscores. */
export const identified = z.object({ id: z.string().regex(/^[A-Za-z0-9._-]{1,64}$/) });

/** A command that is meant for one time only. */
export const timed = identified.extend({ time: z.string(), epoch: z.string().optional() });

export type Timed = z.output<typeof timed>;

/** What is wrong with a command, as a sentence that names the field. */
export function misread(error: z.ZodError): string {
  const [issue] = error.issues;
  return `The command's "${issue.path.join(".")}" is not right: ${issue.message}.`;
}
