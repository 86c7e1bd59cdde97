import type { AlarmRecord } from "../alarms/alarm-record.ts";
import type { AlarmChange } from "../alarms/change.ts";
import { BUILT_IN_TAGS } from "../alarms/compile/built-in.ts";
import { isStanding } from "../alarms/move-words.ts";
import type { Rule } from "../alarms/rules/rule.ts";
import type { Micros } from "../ground/time.ts";
import { isHidden } from "./hidden-rules.ts";

/**
 * Alarms that the run before has left standing, each as a change in which nothing moves.
 * @param begins when the run begins, which is the time of the changes
 */
export function stoodBefore(
  records: readonly AlarmRecord[],
  rules: readonly Rule[],
  begins: Micros,
): AlarmChange[] {
  const priorities = new Map(rules.map(({ tag, priority }) => [tag, priority]));
  return records.flatMap((record) => {
    const { tag, subject, occurrence, state, risen, hold, told } = record;
    const priority = BUILT_IN_TAGS.includes(tag) ? "caution" : priorities.get(tag);
    if (priority === undefined || told === null || !isStanding(state) || isHidden(record)) {
      return [];
    }
    const { signal, value, unit, setpoint, message } = told;
    return {
      tag,
      subject,
      occurrence,
      from: state,
      to: state,
      hold: hold?.kind ?? "none",
      priority: risen ? "alarm" : priority,
      signal,
      value,
      unit,
      setpoint,
      time: begins,
      why: `${message.replace(/^./, (letter) => letter.toUpperCase())}.`,
      by: "",
    };
  });
}
