/** Kleene's three answers, so ordered that `all` is the least and `any` the greatest. */
export const Kleene = { no: 0, unknown: 1, yes: 2 } as const;
export type Kleene = (typeof Kleene)[keyof typeof Kleene];

export function kleeneNot(answer: Kleene): Kleene {
  if (answer === Kleene.unknown) return answer;
  return answer === Kleene.yes ? Kleene.no : Kleene.yes;
}

/** What the test of a rule found: past its limit, back from it, or between (in the deadband). */
export const Found = { clear: 0, deadband: 1, active: 2, unknown: 3 } as const;
export type Found = (typeof Found)[keyof typeof Found];

/** Whether the test is past its limit. */
export function isActive(found: Found): Kleene {
  if (found === Found.unknown) return Kleene.unknown;
  return found === Found.active ? Kleene.yes : Kleene.no;
}

/** Whether the test is back from its limit, the deadband included. */
export function isClear(found: Found): Kleene {
  if (found === Found.unknown) return Kleene.unknown;
  return found === Found.clear ? Kleene.yes : Kleene.no;
}
