import { asksForAnswer, PRIORITY_ON_SCREEN } from "./alarm-words.ts";
import type { AlarmLine, BoatView } from "./boat-view.ts";

/**
 * What a screen reader should say: every alarm that asks for an answer and did not before, or that
 * has risen to a higher priority; all that ask where nothing is known of before.
 */
export function announcements(from: BoatView | undefined, to: BoatView): readonly string[] {
  const known = new Set((from?.alarms ?? []).filter(isOpen).map(keyOf));
  return to.alarms.filter((line) => isOpen(line) && !known.has(keyOf(line)))
    .map(({ status, about }) =>
      [`${PRIORITY_ON_SCREEN[status.priority]}: ${status.title}`, about, status.message]
        .filter((text) => text !== "").join(", ")
    );
}

function isOpen({ status }: AlarmLine): boolean {
  return asksForAnswer(status);
}

function keyOf({ status }: AlarmLine): string {
  return `${status.tag}/${status.subject}/${status.occurrence}/${status.priority}`;
}
