import { z } from "zod";
import { address, mailAddress, type Secret, type SecretSchema, text } from "./setting-values.ts";

z.config({ jitless: true });

/** Whom mail is given to, and as whom. */
export interface MailSettings {
  /** `smtps://mail.example` or `smtp://mail.example`. */
  readonly server: string;
  readonly user?: string;
  readonly password?: Secret;
  /** Certificate of an authority that only the owner knows. */
  readonly authority?: { readonly file: string };
  readonly from: string;
}

const SERVER = "an address such as smtps://mail.example, with any user and password in keys of " +
  "their own";

/** What an owner may write under `mail:`. */
export function mailSchema(
  { secret, fileOnly }: { secret: SecretSchema; fileOnly: z.ZodType<{ readonly file: string }> },
) {
  return z.strictObject({
    "server": address(["smtps:", "smtp:"], SERVER),
    "user": text("a name").optional(),
    "password": secret.optional(),
    "authority": fileOnly.optional(),
    "from": mailAddress("a mail address, such as hazel-comfort@boat.example"),
  }).refine(({ user, password }) => (user === undefined) === (password === undefined), {
    path: ["user"],
    error: "a user and a password, or neither",
  });
}
