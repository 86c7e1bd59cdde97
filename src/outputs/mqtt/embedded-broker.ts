import { createServer, type Server } from "node:net";
import { Aedes } from "aedes";

export interface EmbeddedBroker {
  /** `mqtt://127.0.0.1:1883` */
  readonly url: string;
  /** Ends every connection and gives the port back. */
  stop(): Promise<void>;
}

/** Why the embedded broker cannot start, as a sentence for the owner. */
export class EmbeddedBrokerError extends Error {
  override readonly name = "EmbeddedBrokerError";
}

/**
 * A broker inside the program, for the demo and the boat's own network: MQTT 3.1.1, in memory only.
 * What it acknowledges is still aboard.
 *
 * @param host an address of this machine; only loopback is safe without sign-in
 * @param port 0 for any that is free
 * @throws {EmbeddedBrokerError} when the port is in use or may not be had
 */
export async function startEmbeddedBroker(
  { host = "127.0.0.1", port = 1883 }: { readonly host?: string; readonly port?: number } = {},
): Promise<EmbeddedBroker> {
  const broker = await Aedes.createBroker();
  const server = createServer((socket) => void broker.handle(socket));
  try {
    const taken = await listen(server, host, port);
    return {
      url: `mqtt://${host.includes(":") ? `[${host}]` : host}:${taken}`,
      stop: () => stop(server, broker),
    };
  } catch (error) {
    broker.close();
    throw new EmbeddedBrokerError(listenProblem(host, port, error), { cause: error });
  }
}

function listen(server: Server, host: string, port: number): Promise<number> {
  const { promise, resolve, reject } = Promise.withResolvers<number>();
  server.once("error", reject);
  server.listen(port, host, () => {
    const address = server.address();
    resolve(address !== null && typeof address === "object" ? address.port : port);
  });
  return promise;
}

function stop(server: Server, broker: Aedes): Promise<void> {
  const { promise, resolve } = Promise.withResolvers<void>();
  server.close(() => resolve());
  broker.close();
  return promise;
}

function listenProblem(host: string, port: number, error: unknown): string {
  const said = error instanceof Error ? error.message : String(error);
  if (/EADDRINUSE|in use/i.test(said)) {
    return `Port ${port} on ${host} is in use by another program. ` +
      "Stop that program, or give the broker another port.";
  }
  if (/EACCES|permission/i.test(said)) {
    return `Port ${port} on ${host} may not be used by this user. Give the broker a port above 1023.`;
  }
  return `The embedded broker cannot listen on ${host}, port ${port} (${said}).`;
}
