import { Buffer } from "node:buffer";
import { createHmac, timingSafeEqual } from "node:crypto";
import { z } from "zod";
import { HOUR, type Micros } from "../ground/time.ts";
import type { Answer } from "./answer.ts";

z.config({ jitless: true });

/** What a person can say by a link: seen, I see to it, leave me alone for an hour. */
export const ANSWER_ACTIONS = ["acknowledge", "have-it", "shelve"] as const;
export type AnswerAction = typeof ANSWER_ACTIONS[number];

/** What one link lets one person do about one raising, and until when. */
export interface AnswerClaims {
  /** As in the boat file: a link for one boat is none for another. */
  readonly boat: string;
  readonly tag: string;
  readonly subject: string;
  readonly occurrence: number;
  readonly action: AnswerAction;
  readonly person: string;
  /** Wall time. A boat that does not know the time goes by the occurrence alone. */
  readonly expires: Micros;
}

/** Bytes of a key: as long as the hash (RFC 2104, section 3). */
export const ANSWER_KEY_BYTES = 32;
/** The longest that is looked at; a real one has some 250 characters. */
export const LONGEST_TOKEN = 2_000;

const name = z.string().min(1).max(200);
const claimsSchema = z.tuple([
  name,
  name,
  name,
  z.int().positive(),
  z.enum(ANSWER_ACTIONS),
  name,
  z.int().positive(),
]);

/**
 * The token of an answer: what it claims as a JSON list in base64url, a dot, and the HMAC-SHA-256
 * (RFC 2104) of that text in base64url. It needs no escape in an address.
 */
export function signAnswer(claims: AnswerClaims, key: Uint8Array): string {
  const { boat, tag, subject, occurrence, action, person, expires } = claims;
  const list = [boat, tag, subject, occurrence, action, person, expires];
  const body = Buffer.from(JSON.stringify(list)).toString("base64url");
  return `${body}.${hmacOf(body, key).toString("base64url")}`;
}

/** `refused` is a sentence for the person who followed the link. */
export type ReadToken =
  | { readonly read: true; readonly claims: AnswerClaims }
  | { readonly read: false; readonly why: "not-ours" | "expired"; readonly refused: string };

/** What a token lets its bearer do. Whether that still makes sense, the alarm itself must say. */
export function readAnswer(token: string, key: Uint8Array, now: Micros): ReadToken {
  const claims = claimsIn(token);
  if (claims === undefined || !hasRightHmac(token, key)) {
    return {
      read: false,
      why: "not-ours",
      refused: "This boat did not make that link, or a part of it is missing. Nothing was changed.",
    };
  }
  if (now > claims.expires) {
    return {
      read: false,
      why: "expired",
      refused: "That link is too old to be used. Nothing was changed.",
    };
  }
  return { read: true, claims };
}

/**
 * What a token says of itself, unproven: enough to show what it is about, never to act on.
 * Undefined where it is no token.
 */
export function claimsIn(token: string): AnswerClaims | undefined {
  if (token.length > LONGEST_TOKEN || !/^[\w-]+\.[\w-]{43}$/.test(token)) return undefined;
  const [body] = token.split(".");
  const list = claimsSchema.safeParse(parsed(Buffer.from(body, "base64url").toString()));
  if (!list.success) return undefined;
  const [boat, tag, subject, occurrence, action, person, expires] = list.data;
  return { boat, tag, subject, occurrence, action, person, expires };
}

/** What a person who has it says to the alarm: that they know, and that they see to it. */
export const HAS_IT = "I have it";
/** How long an alarm is shelved by a link. */
export const SHELVED_BY_LINK: Micros = HOUR;

/** The answer as the alarms take it. */
export function answerOf({ tag, subject, occurrence, action, person }: AnswerClaims): Answer {
  const raising = { tag, subject, occurrence, who: person };
  switch (action) {
    case "acknowledge":
      return { kind: "acknowledge", ...raising };
    case "have-it":
      return { kind: "acknowledge", ...raising, why: HAS_IT };
    case "shelve":
      return { kind: "shelve", ...raising, length: SHELVED_BY_LINK };
  }
}

function hmacOf(body: string, key: Uint8Array): Buffer {
  return createHmac("sha256", key).update(body).digest();
}

/** Compares the text, not only the bytes: base64url can write the same bytes in several ways. */
function hasRightHmac(token: string, key: Uint8Array): boolean {
  const [body, given] = token.split(".");
  const right = Buffer.from(hmacOf(body, key).toString("base64url"));
  const found = Buffer.from(given);
  return right.length === found.length && timingSafeEqual(right, found);
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
