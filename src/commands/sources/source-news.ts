import type { SourceEvent } from "../../bus/source-event.ts";
import { sayEvent } from "../../bus/source-event-words.ts";

/** Tells a person what befalls a live input; a try that fails again is no news. */
export function sourceNews(
  input: string,
  say: (sentence: string) => void,
): (event: SourceEvent) => void {
  let away = false;
  return (event) => {
    const again = event.kind === "refused" && away;
    if (event.kind === "lost" || event.kind === "refused") away = true;
    if (event.kind === "connected") away = false;
    if (!again) say(sayEvent(input, event));
  };
}
