import { z } from "zod";
import { subjectText } from "../alarms/rules/rule-text.ts";

z.config({ jitless: true });

const NAME = "[a-z0-9]+(?:-[a-z0-9]+)*";

/** What an alarm is about, as it is printed: `port`, `0`, or `oil-low--port` of what is not watched. */
export const alarmSubjectText = z.union([
  ...subjectText.options,
  z.string().regex(new RegExp(`^${NAME}--${NAME}$`)),
], { error: "a name in lower case, such as port, or a number" });
