import { createHmac, timingSafeEqual } from "node:crypto";

/**
 * HMAC-SHA256 (RFC 2104) over a command's whole topic and all of its fields but `hmac` itself, as
 * 64 hexadecimal digits: for brokers that others may write to. The topic is in it, so that a command
 * for one boat, or of one name, is none for another.
 *
 * The text that is hashed is the topic, a line feed, and the fields as canonical JSON (RFC 8785).
 */
export function commandHmac(topic: string, fields: Fields, key: string): string {
  const { hmac: _, ...rest } = fields;
  return createHmac("sha256", key).update(`${topic}\n${canonicalJson(rest)}`).digest("hex");
}

export type Fields = Readonly<Record<string, unknown>>;

/** Compares in a time that tells nothing of where the two differ. */
export function hasRightHmac(topic: string, fields: Fields, key: string): boolean {
  const right = new TextEncoder().encode(commandHmac(topic, fields, key));
  const given = new TextEncoder().encode(String(fields.hmac));
  return given.length === right.length && timingSafeEqual(given, right);
}

/** RFC 8785: keys in the order of their UTF-16 units, and everything else as ECMAScript writes it. */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(",")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const parts = Object.entries(value)
    .toSorted(([one], [other]) => one < other ? -1 : 1)
    .map(([key, part]) => `${JSON.stringify(key)}:${canonicalJson(part)}`);
  return `{${parts.join(",")}}`;
}
