import { isoTime, type Micros, MILLISECOND, SECOND } from "../../../ground/time.ts";
import { retryAfter } from "./retry-after.ts";
import type { PhoneMessage, SendOutcome, Way } from "../way.ts";

export interface PostWaySettings {
  readonly name: string;
  /** `https://…` from the owner's settings; nothing that is received can change it. */
  readonly address: string;
  /** More headers, such as an authorization; already resolved. */
  readonly headers?: Readonly<Record<string, string>>;
  /** How long a service may take to answer. */
  readonly patience?: Micros;
  /** Wall time, to read a date in `Retry-After`. */
  readonly wall: () => Micros;
}

/** Not now, but perhaps later (RFC 9110, section 15; 429: RFC 6585). */
const LATER = [408, 425, 429];

/** A message as one HTTP POST of JSON, with its key in `Idempotency-Key`. */
export class PostWay implements Way {
  readonly name: string;
  readonly #host: string;

  /** @throws {TypeError} when the address is no web address; it is not repeated, it may be secret */
  constructor(readonly settings: PostWaySettings) {
    const address = URL.parse(settings.address);
    if (address === null || !/^https?:$/.test(address.protocol)) {
      throw new TypeError(`The address for "${settings.name}" is not http:// or https://`);
    }
    this.name = settings.name;
    this.#host = address.host;
  }

  async send(message: PhoneMessage, cut: AbortSignal): Promise<SendOutcome> {
    const { address, headers, patience = 15 * SECOND, wall } = this.settings;
    const tooLong = AbortSignal.timeout(patience / MILLISECOND);
    try {
      const response = await fetch(address, {
        method: "POST",
        headers: {
          ...headers,
          "Content-Type": "application/json",
          "Idempotency-Key": message.key,
        },
        body: JSON.stringify({ ...message, time: isoTime(message.time, 3) }),
        redirect: "manual",
        signal: AbortSignal.any([tooLong, cut]),
      });
      await response.body?.cancel();
      return this.#judge(response, wall());
    } catch {
      // The error's own words may hold the whole address, and with it a secret.
      const why = tooLong.aborted
        ? `${this.#host} took too long to answer`
        : `${this.#host} cannot be reached`;
      return { kind: "try-again", why };
    }
  }

  #judge(response: Response, wall: Micros): SendOutcome {
    const { ok, status, headers } = response;
    if (ok) return { kind: "accepted" };
    const why = `${this.#host} answered ${status}`;
    if (status >= 500 || LATER.includes(status)) {
      return { kind: "try-again", why, after: retryAfter(headers.get("Retry-After"), wall) };
    }
    if (status < 400) {
      return {
        kind: "refused",
        why: `${why}: it sends on to an address that is not in the settings`,
      };
    }
    return { kind: "refused", why };
  }
}
