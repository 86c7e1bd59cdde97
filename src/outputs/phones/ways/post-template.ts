import { nearestName } from "../../../ground/spelling.ts";
import type { PhoneMessage } from "../way.ts";
import { headAndRest, oneLine } from "./message-head.ts";

/** What an owner may write in braces in a request to a service. */
export const PLACEHOLDERS = [
  "title",
  "text",
  "boat",
  "priority",
  "key",
  "person",
  "link",
] as const;
export type Placeholder = typeof PLACEHOLDERS[number];

/** What a text in braces stands for; `link`: where it can be answered, empty where it cannot. */
export function placeholderValues(message: PhoneMessage): Readonly<Record<Placeholder, string>> {
  const { text, boat, priority, key, person, answers } = message;
  const link = answers[0]?.address ?? "";
  return { title: headAndRest(message).head, text, boat, priority, key, person, link };
}

export interface UnknownPlaceholder {
  /** `{tilte}` */
  readonly found: string;
  /** `{title}`, where one is near. */
  readonly nearest?: string;
}

/** The first text in braces that stands for nothing. */
export function unknownPlaceholder(template: string): UnknownPlaceholder | undefined {
  for (const [found, name] of template.matchAll(BRACES)) {
    if (isPlaceholder(name)) continue;
    const nearest = nearestName(name, PLACEHOLDERS);
    return { found, nearest: nearest && `{${nearest}}` };
  }
  return undefined;
}

/** Whether a template becomes JSON whatever the message says: placeholders stand inside quotes. */
export function isJsonTemplate(template: string): boolean {
  try {
    JSON.parse(template.replaceAll(BRACES, "x"));
    return true;
  } catch {
    return false;
  }
}

/** A body, with what it says escaped as its media type wants it. */
export function fillBody(template: string, mediaType: string, message: PhoneMessage): string {
  return fill(template, message, escapeFor(mediaType));
}

/** A header's value: on one line, and what ASCII cannot say left out (RFC 9110, section 5.5). */
export function fillHeader(template: string, message: PhoneMessage): string {
  const filled = fill(template, message, (value) => value);
  return oneLine(filled).normalize("NFKD").replaceAll(NO_ASCII, "");
}

export function isJson(mediaType: string): boolean {
  return /^\s*application\/([^;\s]+\+)?json\s*(;|$)/i.test(mediaType);
}

/** JSON itself has its braces around quotes, never around a bare word. */
const BRACES = /\{([A-Za-z_-]+)\}/g;
const NO_ASCII = /[^\x20-\x7e]/g;

type Escape = (value: string) => string;

function fill(template: string, message: PhoneMessage, escape: Escape): string {
  const values = placeholderValues(message);
  return template.replaceAll(
    BRACES,
    (written, name: string) => isPlaceholder(name) ? escape(values[name]) : written,
  );
}

function escapeFor(mediaType: string): Escape {
  if (isJson(mediaType)) return (value) => JSON.stringify(value).slice(1, -1);
  return /^\s*application\/x-www-form-urlencoded\s*(;|$)/i.test(mediaType)
    ? encodeURIComponent
    : (value) => value;
}

function isPlaceholder(name: string): name is Placeholder {
  return PLACEHOLDERS.some((placeholder) => placeholder === name);
}
