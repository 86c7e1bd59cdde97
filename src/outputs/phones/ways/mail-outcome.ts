import { z } from "zod";
import type { SendOutcome } from "../way.ts";

z.config({ jitless: true });

/** What the library tells of a mail that was not accepted. */
const mailError = z.object({
  code: z.string().optional(),
  /** What the network or TLS has said, below the library. */
  originalCode: z.string().optional(),
  /** What the server has answered (RFC 5321, section 4.2). */
  responseCode: z.int().optional(),
});

/**
 * What became of a mail that was not accepted: 4xx may be better later, 5xx never (RFC 5321,
 * section 4.2.1). The error's own words are not repeated: they may hold what the server was told.
 * @param host the mail server's
 */
export function mailOutcome(error: unknown, host: string, tookTooLong: boolean): SendOutcome {
  if (tookTooLong) return { kind: "try-again", why: `${host} took too long to answer` };
  const { code, originalCode, responseCode } = mailError.safeParse(error).data ?? {};
  if (responseCode !== undefined && responseCode >= 500) {
    const what = code === "EAUTH" ? "refused the user and password with" : "answered";
    return { kind: "refused", why: `${host} ${what} ${responseCode}` };
  }
  if (responseCode !== undefined && responseCode >= 400) {
    return { kind: "try-again", why: `${host} answered ${responseCode}` };
  }
  const why = code === "ETLS"
    ? `${host} could not be spoken to in secret (TLS), so nothing was said to it`
    : code === "ETIMEDOUT"
    ? `${host} took too long to answer`
    : NO_TRUST.test(originalCode ?? "")
    ? `${host} has a certificate that this computer does not trust`
    : `${host} cannot be reached`;
  return { kind: "try-again", why };
}

/** `SELF_SIGNED_CERT_IN_CHAIN`, `UNABLE_TO_VERIFY_LEAF_SIGNATURE`: OpenSSL's names. */
const NO_TRUST = /CERT|SIGNATURE/;
