import { z } from "zod";
import { type HostAndPort, parseHostAndPort } from "../command-line/host-and-port.ts";
import { address, type Secret, type SecretSchema } from "./setting-values.ts";

z.config({ jitless: true });

/** Where the page is served, and for whom. */
export interface PageSettings {
  readonly address?: HostAndPort;
  /** The passphrase of those who may answer. */
  readonly act?: Secret;
  /** The passphrase of those who may only look. */
  readonly watch?: Secret;
  /** PEM; with it the page speaks TLS. */
  readonly certificate?: { readonly file: string };
  readonly key?: Secret;
  /** Where a phone ashore reaches this page, or that of `ashore`; without a slash at its end. */
  readonly "answer-address"?: string;
}

const LISTENING = "a host and a port, such as 127.0.0.1:8080";
const listening = z.string({ error: LISTENING }).transform((written, context) => {
  const place = parseHostAndPort(written);
  if (place !== undefined) return place;
  context.addIssue({ code: "custom", message: LISTENING });
  return z.NEVER;
});

const ANSWERS = "an address such as https://boat.example:8250, without anything behind the host";
const answerAddress = address(["https:", "http:"], ANSWERS)
  .refine((written) => /^https?:\/\/[^/?#]+\/?$/.test(written), { error: ANSWERS })
  .transform((written) => written.replace(/\/$/, ""));

/** What an owner may write under `page:`. */
export function pageSchema(
  { secret, fileOnly }: {
    readonly secret: SecretSchema;
    readonly fileOnly: z.ZodType<{ readonly file: string }>;
  },
) {
  return z.strictObject({
    "address": listening.optional(),
    "act": secret.optional(),
    "watch": secret.optional(),
    "certificate": fileOnly.optional(),
    "key": secret.optional(),
    "answer-address": answerAddress.optional(),
  });
}
