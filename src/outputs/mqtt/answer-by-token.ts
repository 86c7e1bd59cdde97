import { z } from "zod";
import type { Answer } from "../../alarms/change.ts";

z.config({ jitless: true });

/** What a token of a link lets its bearer say, or why it lets them say nothing. */
export type TokenAnswer = { readonly answer: Answer } | { readonly problem: string };

/** Proves a token with the boat's own key. */
export type ProveToken = (token: string) => TokenAnswer;

const withToken = z.object({ token: z.string() });

/**
 * The answer of a command that carries the token of a link. The token alone says what is answered,
 * by whom and which raising; whatever else stands in the command is not looked at, since anybody may
 * have written it.
 * @returns undefined where the command carries no token
 */
export function answerByToken(
  kind: Answer["kind"],
  content: unknown,
  prove: ProveToken | undefined,
): TokenAnswer | undefined {
  const read = withToken.safeParse(content);
  if (!read.success) return undefined;
  if (prove === undefined) return { problem: "This boat makes no links, so it takes no token." };
  const proven = prove(read.data.token);
  if ("problem" in proven || proven.answer.kind === kind) return proven;
  return { problem: `The token is for "${proven.answer.kind}", not for "${kind}".` };
}
