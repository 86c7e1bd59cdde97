import { expect } from "vitest";
import type { Rule } from "../../src/alarms/rules/rule.ts";
import type { Subject } from "../../src/boat/boat.ts";
import { boatWith, HandMadeBoat, micros, type Said } from "./hand-made-boat.ts";

/** How one rule is seen to rise, and to keep quiet. Amounts are in the units of the signals. */
export interface RuleProof {
  readonly tag: string;
  /** Of the alarm: "house". */
  readonly subject: string;
  readonly boat: readonly (Partial<Subject> & Pick<Subject, "group" | "name">)[];
  /** What holds from the beginning to the end. */
  readonly about: Said;
  /** Just inside the limit, for ever: nothing. */
  readonly well: Said;
  /** Just beyond it: raised after so many seconds, and not a second before. */
  readonly wrong: Said;
  readonly after: number;
  /** With this beside it the same is not wrong; not given where the rule always watches. */
  readonly unless?: Said;
}

/** Longer than any condition of a pack must be held. */
const LONG = 9 * 3600;

/** Raises the rule and holds it back, each in a boat of its own. */
export function prove(proof: RuleProof, rules: readonly Rule[]): void {
  const { tag, subject, well, wrong, after, about, unless } = proof;
  const raised = (more: Said, tell: (boat: HandMadeBoat) => void) => {
    const boat = new HandMadeBoat(rules, boatWith(proof.boat))
      .at(0, { ...about, ...well, ...more }).at(LONG, well);
    tell(boat);
    return boat.changes.filter((change) => change.tag === tag && change.from === "normal")
      .map((change) => `${change.subject} ${change.time}`);
  };
  const due = [`${subject} ${micros(LONG + after)}`];
  expect(raised({}, (boat) => boat.at(LONG, wrong).until(LONG + after)), "beyond it").toEqual(due);
  expect(raised({}, (boat) => boat.until(LONG + after + LONG)), "inside it").toEqual([]);
  if (after > 0) {
    const short = (boat: HandMadeBoat) =>
      boat.at(LONG, wrong).at(LONG + after - 1, well).until(LONG + LONG);
    expect(raised({}, short), "a second too short").toEqual([]);
  }
  if (unless !== undefined) {
    const aside = (boat: HandMadeBoat) => boat.at(LONG, wrong).until(LONG + after + 60);
    expect(raised(unless, aside), "while it need not watch").toEqual([]);
  }
}
