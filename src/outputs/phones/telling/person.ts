import type { Priority } from "../../../alarms/words.ts";
import type { Micros } from "../../../ground/time.ts";
import type { QuietHours } from "./quiet-hours.ts";

/** Who is told of what, and when. */
export interface Person {
  readonly name: string;
  /** Priorities of which this person is told. */
  readonly wants: readonly Priority[];
  readonly quiet?: QuietHours;
  /**
   * Told again after so long without an answer from anybody; after as long once more, the people
   * below are told. Without it they are told together with this person.
   */
  readonly ifNoAnswer?: Micros;
}

/**
 * The people to be told of one priority, in the order in which they are asked: everybody of a step
 * at once, the next step only when the last person of this one has not answered.
 */
export function stepsOf(people: readonly Person[], priority: Priority): readonly Step[] {
  const steps: Person[][] = [[]];
  for (const person of people) {
    if (!person.wants.includes(priority)) continue;
    steps[steps.length - 1].push(person);
    if (person.ifNoAnswer !== undefined) steps.push([]);
  }
  return steps.filter((step) => step.length > 0).map((people) => ({
    people,
    awaited: people.find(({ ifNoAnswer }) => ifNoAnswer !== undefined),
  }));
}

export interface Step {
  readonly people: readonly Person[];
  /** Whose answer is waited for; undefined in a last step where nobody's is. */
  readonly awaited: Person | undefined;
}
