import { type Micros, MILLISECOND } from "../../../ground/time.ts";
import type { SendOutcome } from "../way.ts";
import { retryAfter } from "./retry-after.ts";

/** One request that carries a message. */
export interface HttpTry {
  readonly address: string;
  readonly method: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string | Uint8Array<ArrayBuffer>;
  /** How long a service may take to answer. */
  readonly patience: Micros;
  readonly cut: AbortSignal;
  /** Wall time, to read a date in `Retry-After`. */
  readonly wall: () => Micros;
  /** Left out for the usual one. */
  readonly client?: Deno.HttpClient;
}

export interface HttpAnswer {
  /** Undefined where no answer came. */
  readonly status?: number;
  readonly outcome: SendOutcome;
}

/** Not now, but perhaps later (RFC 9110, section 15; 429: RFC 6585). */
const LATER = [408, 425, 429];

/** Sends it once, to this very address and to no other that a service may name. */
export async function tryHttp(request: HttpTry): Promise<HttpAnswer> {
  const { address, method, headers, body, patience, cut, wall, client } = request;
  const { host } = new URL(address);
  const tooLong = AbortSignal.timeout(patience / MILLISECOND);
  try {
    const response = await fetch(address, {
      method,
      headers: { ...headers },
      body,
      redirect: "manual",
      signal: AbortSignal.any([tooLong, cut]),
      client,
    });
    await response.body?.cancel();
    const { status } = response;
    const after = retryAfter(response.headers.get("Retry-After"), wall());
    return { status, outcome: outcomeOf(host, status, after) };
  } catch (error) {
    // The error's own words may hold the whole address, and with it a secret.
    const why = tooLong.aborted
      ? `${host} took too long to answer`
      : isNoTrust(error)
      ? `${host} has a certificate that this computer does not trust`
      : `${host} cannot be reached`;
    return { outcome: { kind: "try-again", why } };
  }
}

function isNoTrust(error: unknown): boolean {
  return error instanceof Error && /: invalid peer certificate: /.test(String(error.cause));
}

function outcomeOf(host: string, status: number, after: Micros | undefined): SendOutcome {
  if (status >= 200 && status < 300) return { kind: "accepted" };
  const why = `${host} answered ${status}`;
  if (status >= 500 || LATER.includes(status)) return { kind: "try-again", why, after };
  if (status >= 400) return { kind: "refused", why };
  return { kind: "refused", why: `${why}: it sends on to an address that is not in the settings` };
}
