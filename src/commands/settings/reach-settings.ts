import { z } from "zod";
import { usualType } from "../../outputs/phones/ways/post-way.ts";
import {
  isJson,
  isJsonTemplate,
  PLACEHOLDERS,
  unknownPlaceholder,
} from "../../outputs/phones/ways/post-template.ts";
import { address, mailAddress, type Secret, type SecretSchema } from "./setting-values.ts";

z.config({ jitless: true });

/** One way to a person: an HTTP POST, mail, or push messages to the devices that asked for them. */
export type Reach = PostReach | MailReach | PushReach;

export interface PostReach {
  readonly post: string | Secret;
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string | Secret>>;
  /** With placeholders; left out for the whole message as JSON. */
  readonly body?: string | Secret;
}

export interface MailReach {
  /** `ellen@boat.example` */
  readonly mail: string;
}

export interface PushReach {
  /** Whom a push service may write to: `ellen@boat.example`. */
  readonly push: string;
}

const WAYS = ["post", "mail", "push"] as const;
const OF_POST = ["method", "headers", "body"] as const;

const POST = "an address such as https://push.example/boat, or { file: PATH } or { env: NAME }";
const PLACEHOLDER = `no braces but ${PLACEHOLDERS.map((name) => `{${name}}`).join(" ")}`;
const TEMPLATE = 'a text in quotes, such as "{title}", or { file: PATH } or { env: NAME }';
const JSON_BODY = 'JSON with every placeholder inside quotes, such as { "message": "{text}" }';
const METHODS = ["POST", "PUT", "PATCH"];

/** RFC 9110, section 5.6.2. */
const headerName = z.string()
  .regex(/^[!#$%&'*+.^_`|~0-9A-Za-z-]+$/, { error: "the name of an HTTP header" });

/** What an owner may write for one way below `reach:`. */
export function reachSchema(secret: SecretSchema) {
  const template = z.union([templateText, secret], { error: TEMPLATE });
  return z.strictObject({
    "post": z.union([address(["https:", "http:"], POST), secret], { error: POST }).optional(),
    "mail": mailAddress("a mail address, such as ellen@boat.example").optional(),
    "push": mailAddress(
      "the mail address that a push service may write to, such as ellen@boat.example",
    ).optional(),
    "method": z.enum(METHODS).optional(),
    "headers": z.record(headerName, template, {
      error: "HTTP headers, such as { Authorization: { env: PUSH_TOKEN } }",
    }).optional(),
    "body": template.optional(),
  }).transform((written, context): Reach => {
    const { post, mail, push, ...ofPost } = written;
    const complain = (message: string, path: PropertyKey[] = []): never => {
      context.addIssue({ code: "custom", path, message });
      return z.NEVER;
    };
    const ways = WAYS.filter((way) => written[way] !== undefined);
    if (ways.length !== 1) return complain("one of post, mail or push");
    if (post !== undefined) {
      return isSoundBody(ofPost) ? { post, ...ofPost } : complain(JSON_BODY, ["body"]);
    }
    for (const key of OF_POST) {
      if (written[key] !== undefined) {
        return complain("nothing here, since it belongs to post", [key]);
      }
    }
    return mail !== undefined ? { mail } : push !== undefined ? { push } : complain(POST);
  });
}

/** A text whose braces all stand for something. */
const templateText = z.string().superRefine((text, context) => {
  const unknown = unknownPlaceholder(text);
  if (unknown === undefined) return;
  context.addIssue({ code: "custom", message: PLACEHOLDER, params: { nearest: unknown.nearest } });
});

/** What lies in a file is looked at when it is read. */
function isSoundBody({ headers = {}, body }: Omit<PostReach, "post">): boolean {
  if (typeof body !== "string") return true;
  const named = Object.entries(headers).find(([name]) => name.toLowerCase() === "content-type");
  const mediaType = typeof named?.[1] === "string" ? named[1] : usualType(body);
  return !isJson(mediaType) || isJsonTemplate(body);
}
