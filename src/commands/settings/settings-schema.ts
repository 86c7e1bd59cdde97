import { isAbsolute, join } from "node:path";
import { z } from "zod";
import { PRIORITIES, type Priority } from "../../alarms/words.ts";
import { switchWord } from "../../ground/switch-word.ts";
import { parseDuration } from "../../units/duration.ts";
import { historySchema } from "./history-settings.ts";
import { parseHostAndPort } from "../command-line/host-and-port.ts";

z.config({ jitless: true });

// What an owner may write in `sternfast.yaml` (contract §2) and what it becomes. An `error` text
// ends "expected …".

const BROKER = "embedded, or an address such as mqtt://broker.example:1883, with any user and " +
  "password in keys of their own";
const POST = "an address such as https://push.example/boat, or { file: PATH } or { env: NAME }";

/** What a person is told of who did not say. */
const USUALLY_WANTED: Priority[] = ["emergency-alarm", "alarm", "warning"];

/** @param folder whole path of the folder of the settings: other files are resolved against it */
export function settingsSchema(folder: string) {
  const file = z.string({ error: "a file or folder" }).min(1, { error: "a file or folder" })
    .transform((path) => isAbsolute(path) ? path : join(folder, path));

  const fileOnly = z.strictObject({ "file": file }, { error: "{ file: PATH }" });

  /** A secret never stands in the settings themselves. */
  const secret = z.union([
    z.strictObject({ "file": file }),
    z.strictObject({ "env": text("the name of a variable") }),
  ], { error: "{ file: PATH } or { env: NAME }, so that no secret stands in this file" });

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

  const headerValue = z.union([z.string(), secret], {
    error: "a text in quotes, { file: PATH } or { env: NAME }",
  });

  const reach = z.strictObject({
    "post": z.union([address(["https:", "http:"], POST), secret], { error: POST }),
    "headers": z.record(headerName, headerValue, {
      error: "HTTP headers, such as { Authorization: { env: PUSH_TOKEN } }",
    }).optional(),
  });

  const person = z.strictObject({
    "name": text("a name"),
    "reach": z.array(reach, { error: "a list of ways, such as - post: https://push.example/boat" }),
    "wants": list(z.enum(PRIORITIES), "a list of priorities, such as [emergency-alarm, alarm]")
      .default(USUALLY_WANTED),
  });

  return z.strictObject({
    "input": list(text("an input, such as candump:trip.log"), "one input or a list of them")
      .nullish(),
    "boat": file.nullish(),
    "rules": list(file, "one file or folder, or a list of them").nullish(),
    "state": file.nullish(),
    "mqtt": mqtt.nullish(),
    "people": z.array(person, { error: "a list of people" }).nullish(),
    "page": z.strictObject({ "address": listening.optional() }).nullish(),
    "history": historySchema.nullish(),
  }, { error: "settings, such as boat: boat.yaml" });
}

function text(error: string) {
  return z.string({ error }).min(1, { error });
}

/** One or several. */
function list<T extends z.ZodType>(item: T, error: string) {
  return z.union([item, z.array(item)], { error })
    .transform((written): z.output<T>[] => Array.isArray(written) ? written : [written]);
}

const duration = z.string({ error: "a time, such as 5 min" }).transform((written, context) => {
  const read = parseDuration(written);
  if (read.ok) return read.value;
  context.addIssue({ code: "custom", message: read.expected, params: { nearest: read.nearest } });
  return z.NEVER;
});

/** The protocol's level: 5 for MQTT 5, 4 for MQTT 3.1.1. */
const mqttVersion = z.literal([5, "5", "3.1.1"], { error: "5 or 3.1.1" })
  .transform((written) => written === "3.1.1" ? 4 : 5);

const TOPIC_BASE = "the first part of topics, such as sternfast/hazel-comfort, without + and #";
const topicBase = z.string({ error: TOPIC_BASE }).regex(/^[^/#+\s][^#+\s]*$/, { error: TOPIC_BASE })
  .transform((written) => written.replace(/\/+$/, ""));

/** RFC 9110, section 5.6.2. */
const headerName = z.string()
  .regex(/^[!#$%&'*+.^_`|~0-9A-Za-z-]+$/, { error: "the name of an HTTP header" });

const LISTENING = "a host and a port, such as 127.0.0.1:8080";
const listening = z.string({ error: LISTENING }).transform((written, context) => {
  const place = parseHostAndPort(written);
  if (place !== undefined) return place;
  context.addIssue({ code: "custom", message: LISTENING });
  return z.NEVER;
});

/** An address of one of the protocols, without a user or password in it. */
function address(protocols: readonly string[], error: string) {
  return z.string({ error }).refine((written) => {
    if (!URL.canParse(written)) return false;
    const { protocol, hostname, username, password } = new URL(written);
    return protocols.includes(protocol) && hostname !== "" && username === "" && password === "";
  }, { error });
}
