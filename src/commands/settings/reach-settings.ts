import { z } from "zod";
import { address, type Secret, type SecretSchema } from "./setting-values.ts";

z.config({ jitless: true });

/** One way to a person: an HTTP POST. */
export interface Reach {
  readonly post: string | Secret;
  readonly headers?: Readonly<Record<string, string | Secret>>;
}

const POST = "an address such as https://push.example/boat, or { file: PATH } or { env: NAME }";

/** RFC 9110, section 5.6.2. */
const headerName = z.string()
  .regex(/^[!#$%&'*+.^_`|~0-9A-Za-z-]+$/, { error: "the name of an HTTP header" });

/** What an owner may write for one way below `reach:`. */
export function reachSchema(secret: SecretSchema) {
  const headerValue = z.union([z.string(), secret], {
    error: "a text in quotes, { file: PATH } or { env: NAME }",
  });
  return z.strictObject({
    "post": z.union([address(["https:", "http:"], POST), secret], { error: POST }),
    "headers": z.record(headerName, headerValue, {
      error: "HTTP headers, such as { Authorization: { env: PUSH_TOKEN } }",
    }).optional(),
  });
}
