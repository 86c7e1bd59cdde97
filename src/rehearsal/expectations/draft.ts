import { type Micros, SECOND } from "../../ground/time.ts";
import type { Occurrence } from "../occurrences.ts";
import type { RunPart } from "../run.ts";
import type { RuleFigures } from "../run-record.ts";
import { sayOffset } from "./expected-time.ts";

/** How far from what happened the drafted windows reach. */
const LEEWAY: Micros = 2 * SECOND;

/**
 * An expectation file that holds for what happened in one recording, for a person to edit: what
 * happened is not yet what should have happened.
 */
export function draftExpectations(
  part: RunPart,
  occurrences: readonly Occurrence[],
  rules: readonly RuleFigures[],
): string {
  const lines = [
    `# Drafted from what the rules made of ${part.title}. This is what happened, not yet what`,
    "# should have: take away what was a false alarm, add what was missed, and name under never",
    "# what must not come. Times count from the recording's start.",
  ];
  const blind = rules.filter(({ standing }) => standing === "no-data");
  if (blind.length > 0) {
    lines.push("#", "# These rules could not be judged at all:");
    for (const { tag, subject, reason } of blind) {
      lines.push(`#   ${subject === "" ? tag : `${tag}, ${subject}`}: ${reason}`);
    }
  }
  lines.push(occurrences.length === 0 ? "expect: []" : "expect:");
  for (const { tag, subject, raised, returned } of occurrences) {
    lines.push(
      `  - alarm: ${tag}`,
      `    subject: ${subject}`,
      `    raised: ${around(raised, part)}`,
    );
    if (returned !== null) lines.push(`    returned: ${around(returned, part)}`);
  }
  lines.push("never: []", "anything-else: no", "");
  return lines.join("\n");
}

/** Whole seconds, some way to either side. */
function around(time: Micros, { begins }: RunPart): string {
  const from = Math.max(0, Math.floor((time - begins - LEEWAY) / SECOND) * SECOND);
  const to = Math.ceil((time - begins + LEEWAY) / SECOND) * SECOND;
  return `[${sayOffset(from)}, ${sayOffset(to)}]`;
}
