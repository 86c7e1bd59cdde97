import { z } from "zod";
import { switchWord } from "../../ground/switch-word.ts";
import { historySchema } from "./history-settings.ts";
import { mailSchema } from "./mail-settings.ts";
import { pageSchema } from "./page-settings.ts";
import { peopleSchema } from "./people-settings.ts";
import { weekly } from "./schedule-settings.ts";
import { address, duration, list, placesIn, text } from "./setting-values.ts";

z.config({ jitless: true });

// What an owner may write in `sternfast.yaml` (contract §2) and what it becomes. An `error` text
// ends "expected …".

const BROKER = "embedded, or an address such as mqtt://broker.example:1883, with any user and " +
  "password in keys of their own";

/** @param folder whole path of the folder of the settings: other files are resolved against it */
export function settingsSchema(folder: string) {
  const { file, fileOnly, secret } = placesIn(folder);

  const mqtt = z.strictObject({
    "broker": z.union([z.literal("embedded"), address(["mqtt:", "mqtts:"], BROKER)], {
      error: BROKER,
    }).optional(),
    "user": text("a name").optional(),
    "password": secret.optional(),
    "authority": fileOnly.optional(),
    "certificate": fileOnly.optional(),
    "key": secret.optional(),
    "version": mqttVersion.optional(),
    "base": topicBase.optional(),
    "fastest": duration.optional(),
    "slowest": duration.optional(),
    "ashore": switchWord.optional(),
    "command-key": secret.optional(),
  });

  return z.strictObject({
    "input": list(text("an input, such as candump:trip.log"), "one input or a list of them")
      .nullish(),
    "boat": file.nullish(),
    "rules": list(file, "one file or folder, or a list of them").nullish(),
    "state": file.nullish(),
    "mqtt": mqtt.nullish(),
    "people": peopleSchema(secret).nullish(),
    "mail": mailSchema({ secret, fileOnly }).nullish(),
    "hail": weekly.nullish(),
    "page": pageSchema({ secret, fileOnly }).nullish(),
    "history": historySchema.nullish(),
  }, { error: "settings, such as boat: boat.yaml" }).superRefine(({ people, mail }, context) => {
    if (mail) return;
    people?.forEach(({ reach }, person) =>
      reach.forEach((way, place) => {
        if (!("mail" in way)) return;
        context.addIssue({
          code: "custom",
          path: ["people", person, "reach", place, "mail"],
          message: "a mail server too, in the mail part of the settings",
        });
      })
    );
  });
}

/** The protocol's level: 5 for MQTT 5, 4 for MQTT 3.1.1. */
const mqttVersion = z.literal([5, "5", "3.1.1"], { error: "5 or 3.1.1" })
  .transform((written) => written === "3.1.1" ? 4 : 5);

const TOPIC_BASE = "the first part of topics, such as sternfast/hazel-comfort, without + and #";
const topicBase = z.string({ error: TOPIC_BASE }).regex(/^[^/#+\s][^#+\s]*$/, { error: TOPIC_BASE })
  .transform((written) => written.replace(/\/+$/, ""));
