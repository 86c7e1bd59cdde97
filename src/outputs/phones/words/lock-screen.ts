/**
 * Characters of a message. A locked phone shows about four lines of some fifty characters before it
 * cuts (common practice); what is behind them is read only by somebody who is awake already.
 */
export const LOCK_SCREEN = 200;

/** The sentences of a text that still fit behind what is there; the first is cut if it must be. */
export function fitting(before: string, text: string): string {
  let fits = "";
  for (const sentence of sentencesOf(text)) {
    const longer = fits === "" ? sentence : `${fits} ${sentence}`;
    if (before.length + 1 + longer.length > LOCK_SCREEN) break;
    fits = longer;
  }
  return fits === "" ? cut(text, LOCK_SCREEN - before.length - 1) : fits;
}

/**
 * As many as a locked phone shows, each whole: `low house voltage; aft bilge pump; and 3 more`.
 * @param beside everything else that the message says
 */
export function asManyAsFit(titles: readonly string[], beside: string): string {
  for (let said = titles.length; said > 0; said--) {
    const rest = titles.length - said;
    const list = [...titles.slice(0, said), ...(rest === 0 ? [] : [`and ${rest} more`])].join("; ");
    if (beside.length + list.length <= LOCK_SCREEN) return list;
  }
  return `${titles.length} more`;
}

/** At the end of a word, with a sign that there is more; empty where hardly a word fits. */
function cut(text: string, most: number): string {
  if (text.length <= most) return text;
  const words = text.slice(0, Math.max(0, most - 1)).replace(/\s+\S*$/, "");
  return words.length < 20 ? "" : `${words} …`;
}

function sentencesOf(text: string): string[] {
  return text.split(/(?<=[.!?])\s+/).filter((sentence) => sentence !== "");
}
