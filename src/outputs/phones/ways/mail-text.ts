import type { PhoneMessage } from "../way.ts";

/**
 * The text of a mail: what every way says, then what the picture shows, then how to answer.
 * @param picture what is drawn beside it; empty where nothing is
 */
export function mailText({ text, answers }: PhoneMessage, picture: string): string {
  const links = answers.map(({ words, address }) => `${words}:\n${address}`);
  const paragraphs = [text, picture, ...links].filter((paragraph) => paragraph !== "");
  return `${paragraphs.join("\n\n")}\n`;
}
