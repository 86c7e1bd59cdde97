import { z } from "zod";
import { TOPIC_NAME, topicNameFrom } from "../../ground/topic-name.ts";

// Values that several parts of a boat file share. An `error` text ends "expected …".

/** Contract §3: the first parts of topics that are ours, and parts of a quantity's name. */
const RESERVED = new Set([
  "link",
  "alarm",
  "event",
  "history",
  "device",
  "command",
  "command-answer",
  "status",
  "fault",
]);

/** A name that becomes part of topics. */
export const nameText = z.string({ error: "a name in lower case, such as port" })
  .superRefine((text, context) => {
    if (RESERVED.has(text)) {
      context.addIssue({
        code: "custom",
        message: "another name, because topics use this one already",
      });
    } else if (!TOPIC_NAME.test(text)) {
      context.addIssue({
        code: "custom",
        message: "a name of lower-case letters, digits and hyphens, so that it fits a topic",
        params: { nearest: topicNameFrom(text) },
      });
    }
  })
  .meta({ pattern: TOPIC_NAME.source });

/** A whole number up to and including `most`. */
export function numberUpTo(most: number, from = 0) {
  const error = `a whole number from ${from} to ${most}`;
  return z.number({ error }).int({ error }).min(from, { error }).max(most, { error });
}

/** NMEA 2000 instances of one byte; 253 to 255 are reserved codes. */
/** What lies above says that a device has none. */
export const MOST_INSTANCE = 252;
export const instance = numberUpTo(MOST_INSTANCE);

/** The name of a bus: its network interface, or the name that an input was given. */
export const busText = z.string({ error: "the name of a bus, such as can0" })
  .regex(/^\S+$/, { error: "the name of a bus, such as can0" });

/** The parts of a key that any subject may have. */
export const keyParts = {
  "instance": instance.optional(),
  "bus": busText.optional(),
  "device": nameText.optional(),
};
