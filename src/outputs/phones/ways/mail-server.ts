/** Whom mail is given to, and as whom. */
export interface MailServer {
  /** `smtps://mail.example` (TLS from the first byte, 465) or `smtp://mail.example` (STARTTLS, 587). */
  readonly address: string;
  readonly user?: string;
  readonly password?: string;
  /** Of an authority that only the owner knows, as PEM. */
  readonly authority?: string;
  /** `hazel-comfort@boat.example` */
  readonly from: string;
}

/** Where no other computer can listen, TLS may be left out. */
const LOOPBACK = /^(localhost|127(\.\d+){3}|\[::1\])$/;

/**
 * What a connection needs. Nothing is ever said in the clear on a network: without TLS nothing is
 * sent at all.
 * @throws {TypeError} when the address is none of the two
 */
export function connectionTo({ address, user, password, authority }: MailServer) {
  const url = URL.parse(address);
  if (url === null || !/^smtps?:$/.test(url.protocol) || url.hostname === "") {
    throw new TypeError("The mail server's address is not smtp:// or smtps://");
  }
  const secure = url.protocol === "smtps:";
  return {
    host: url.hostname.replace(/^\[(.*)\]$/, "$1"),
    port: url.port === "" ? (secure ? 465 : 587) : Number(url.port),
    secure,
    requireTLS: !secure && !LOOPBACK.test(url.hostname),
    auth: user === undefined ? undefined : { user, pass: password ?? "" },
    tls: authority === undefined ? undefined : { ca: authority },
  };
}
