import { CommandFailure } from "./exit-codes.ts";

/** Where to listen. */
export interface HostAndPort {
  readonly hostname: string;
  readonly port: number;
}

const HOST_AND_PORT = /^(?:\[([0-9A-Fa-f:.]+)\]|([^\s:[\]]+)):(\d{1,5})$/;

/** Reads `127.0.0.1:8080` or `[::1]:8080`; undefined where it is neither. */
export function parseHostAndPort(text: string): HostAndPort | undefined {
  const parts = HOST_AND_PORT.exec(text);
  if (parts === null) return undefined;
  const port = Number(parts[3]);
  return port > 65_535 ? undefined : { hostname: parts[1] ?? parts[2], port };
}

/**
 * The value of `--page`.
 * @throws {CommandFailure} for what is no address
 */
export function readPage(text: string | undefined): HostAndPort | undefined {
  if (text === undefined) return undefined;
  const address = parseHostAndPort(text);
  if (address !== undefined) return address;
  throw new CommandFailure(`--page: found "${text}", expected HOST:PORT, such as 127.0.0.1:8250`);
}
