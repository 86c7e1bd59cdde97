import { isoTime, type Micros, SECOND } from "../../../ground/time.ts";
import type { PhoneMessage, SendOutcome, Way } from "../way.ts";
import { tryHttp } from "./http-try.ts";
import { fillBody, fillHeader } from "./post-template.ts";

export interface PostWaySettings {
  readonly name: string;
  /** `https://…` from the owner's settings; nothing that is received can change it. */
  readonly address: string;
  /** POST, where nothing is said. */
  readonly method?: string;
  /** More headers, such as an authorization, with placeholders; already resolved. */
  readonly headers?: Readonly<Record<string, string>>;
  /** The body with placeholders; left out for the whole message as JSON. */
  readonly body?: string;
  /** How long a service may take to answer. */
  readonly patience?: Micros;
  /** Wall time, to read a date in `Retry-After`. */
  readonly wall: () => Micros;
}

const JSON_TYPE = "application/json";

/** A message as one HTTP request from the owner's template, with its key in `Idempotency-Key`. */
export class PostWay implements Way {
  readonly name: string;

  /** @throws {TypeError} when the address is no web address; it is not repeated, it may be secret */
  constructor(readonly settings: PostWaySettings) {
    const address = URL.parse(settings.address);
    if (address === null || !/^https?:$/.test(address.protocol)) {
      throw new TypeError(`The address for "${settings.name}" is not http:// or https://`);
    }
    this.name = settings.name;
  }

  async send(message: PhoneMessage, cut: AbortSignal): Promise<SendOutcome> {
    const { address, method = "POST", patience = 15 * SECOND, wall } = this.settings;
    const headers = this.#headers(message);
    const body = this.#body(message, headers["content-type"]);
    return (await tryHttp({ address, method, headers, body, patience, cut, wall })).outcome;
  }

  /** By their names in lower case: the owner's go before ours. */
  #headers(message: PhoneMessage): Record<string, string> {
    const { headers = {}, body } = this.settings;
    const filled: Record<string, string> = {
      "content-type": body === undefined ? JSON_TYPE : usualType(body),
      "idempotency-key": message.key,
    };
    for (const [name, template] of Object.entries(headers)) {
      filled[name.toLowerCase()] = fillHeader(template, message);
    }
    return filled;
  }

  #body(message: PhoneMessage, mediaType: string): string {
    const { body } = this.settings;
    return body === undefined
      ? JSON.stringify({ ...message, time: isoTime(message.time, 3) })
      : fillBody(body, mediaType, message);
  }
}

/** What a body is of which nothing is said: JSON begins with a bracket that is no placeholder's. */
export function usualType(body: string): string {
  return /^\s*(\[|\{(?![A-Za-z_-]+\}))/.test(body) ? JSON_TYPE : "text/plain; charset=utf-8";
}
