import type { PhoneMessage } from "../way.ts";

/** A message in two parts, for ways that show a title above the text. */
export interface HeadAndRest {
  /** `Hazel Comfort, ALARM`, on one line */
  readonly head: string;
  /** `Port oil pressure 11 psi at 1,800 rpm, limit 18 psi, since 14:31. Bring …` */
  readonly rest: string;
}

/** Longer ones are cut by phones (common practice). */
const LONGEST_HEAD = 60;

/** Divides a message at its first colon; one without a fitting head is called by the boat. */
export function headAndRest({ boat, text }: Pick<PhoneMessage, "boat" | "text">): HeadAndRest {
  const end = text.indexOf(": ");
  if (!text.startsWith(boat) || end === -1 || end > LONGEST_HEAD) {
    return { head: oneLine(boat), rest: text };
  }
  const rest = text.slice(end + 2);
  return {
    head: oneLine(text.slice(0, end)),
    rest: `${rest.charAt(0).toUpperCase()}${rest.slice(1)}`,
  };
}

/** `Hazel Comfort, ALARM: port oil pressure 11 psi at 1,800 rpm, limit 18 psi, since 14:31.` */
export function firstSentence(text: string): string {
  return oneLine(text.split(/(?<=[.!?])\s/, 1)[0]);
}

/** Without line ends and other control characters, which would begin a new header. */
export function oneLine(text: string): string {
  return text.replaceAll(/\p{Cc}+/gu, " ").trim();
}
