/** Where the page is to be served. */
export interface ListeningAddress {
  readonly hostname: string;
  readonly port: number;
}

/** The page cannot be served; the message is a sentence for the owner. */
export class PageStartError extends Error {
  override readonly name = "PageStartError";

  constructor(
    readonly reason:
      | "open-to-others"
      | "port-in-use"
      | "not-permitted"
      | "no-such-address"
      | "no-certificate",
    message: string,
  ) {
    super(message);
  }
}

/** True for names and addresses that only this computer itself can reach. */
export function isLoopback(hostname: string): boolean {
  const bare = withoutBrackets(hostname);
  return bare === "localhost" || bare === "::1" || /^127(\.\d{1,3}){3}$/.test(bare);
}

/** `127.0.0.1:8080`, `[::1]:8080` */
export function hostAndPort({ hostname, port }: ListeningAddress): string {
  const bare = withoutBrackets(hostname);
  return `${bare.includes(":") ? `[${bare}]` : bare}:${port}`;
}

/** The `Host` headers that a browser on this computer sends for the page. */
export function ownNames({ hostname, port }: ListeningAddress): ReadonlySet<string> {
  const names = new Set<string>();
  for (const name of [withoutBrackets(hostname), "localhost", "127.0.0.1", "::1"]) {
    const full = hostAndPort({ hostname: name, port });
    names.add(full);
    if (port === 80) names.add(full.slice(0, -":80".length));
  }
  return names;
}

/** Refuses every address that others could reach, for a page that asks nobody to sign in. */
export function refuseOpenPage(address: ListeningAddress): void {
  if (isLoopback(address.hostname)) return;
  throw new PageStartError(
    "open-to-others",
    `The page was not started: others could reach ${hostAndPort(address)}, so it needs a ` +
      `passphrase (page: { act: { file: PATH } } in the settings). Without one, use ` +
      `127.0.0.1:${address.port}.`,
  );
}

/** The sentence for an error of the listening socket; undefined where it is another error. */
export function startError(error: unknown, address: ListeningAddress): PageStartError | undefined {
  const shown = hostAndPort(address);
  const name = error instanceof Error ? error.name : "";
  if (name === "AddrInUse") {
    return new PageStartError(
      "port-in-use",
      `The page was not started: another program already uses ${shown}. ` +
        `Stop that program or give the page another port.`,
    );
  }
  if (name === "PermissionDenied" || name === "NotCapable") {
    return new PageStartError(
      "not-permitted",
      `The page was not started: this computer does not let us use ${shown}. ` +
        `Use a port above 1023.`,
    );
  }
  if (name === "AddrNotAvailable") {
    return new PageStartError(
      "no-such-address",
      `The page was not started: this computer has no address ${shown}. ` +
        `Use 127.0.0.1:${address.port}.`,
    );
  }
  // A certificate without any in it has a name of its own; other faults of the pair have only words.
  if (name === "InvalidData" || /private key|KeyMismatch/.test(String(error))) {
    return new PageStartError(
      "no-certificate",
      "The page was not started: its certificate or key is not a PEM text that fits the other. " +
        "Look at page: certificate and key in the settings.",
    );
  }
  return undefined;
}

function withoutBrackets(hostname: string): string {
  return hostname.toLowerCase().replace(/^\[(.*)\]$/, "$1");
}
