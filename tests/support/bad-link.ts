import { freePort } from "./mosquitto.ts";

/**
 * A link between a client and a broker that can be cut, stop carrying without a word (half-open), or
 * carry slowly. It listens on a port of its own and hands bytes on.
 */
export class BadLink {
  readonly port = freePort();
  #way: "open" | "cut" | "stuck" = "open";
  #delay = 0;
  readonly #listener: Deno.Listener;
  readonly #connections = new Set<Deno.Conn>();
  #free = Promise.withResolvers<void>();
  accepted = 0;
  /** Bytes that went towards the broker. */
  carried = 0;

  constructor(readonly to: number) {
    this.#listener = Deno.listen({ hostname: "127.0.0.1", port: this.port });
    this.#free.resolve();
    this.#accept();
  }

  get url(): string {
    return `mqtt://127.0.0.1:${this.port}`;
  }

  /** Ends every connection, and every new one at once. */
  cut(): void {
    this.#way = "cut";
    for (const connection of this.#connections) close(connection);
  }

  /** Nothing goes on in either direction, and nobody is told. */
  stick(): void {
    this.#way = "stuck";
    this.#free = Promise.withResolvers();
  }

  /** @param delay milliseconds that every piece takes */
  mend(delay = 0): void {
    this.#way = "open";
    this.#delay = delay;
    this.#free.resolve();
  }

  stop(): void {
    this.cut();
    this.#free.resolve();
    this.#listener.close();
  }

  async #accept(): Promise<void> {
    for await (const client of this.#listener) {
      this.accepted++;
      if (this.#way === "cut") {
        close(client);
        continue;
      }
      const broker = await Deno.connect({ hostname: "127.0.0.1", port: this.to })
        .catch(() => undefined);
      if (broker === undefined) {
        close(client);
        continue;
      }
      this.#connections.add(client).add(broker);
      const pair = [client, broker];
      this.#carry(client, broker, true).finally(() => pair.forEach(close));
      this.#carry(broker, client, false).finally(() => pair.forEach(close));
    }
  }

  async #carry(from: Deno.Conn, to: Deno.Conn, counts: boolean): Promise<void> {
    const bytes = new Uint8Array(4096);
    try {
      for (;;) {
        const length = await from.read(bytes);
        if (length === null) return;
        await this.#free.promise;
        if (this.#delay > 0) await new Promise((resolve) => setTimeout(resolve, this.#delay));
        if (counts) this.carried += length;
        for (let at = 0; at < length;) at += await to.write(bytes.subarray(at, length));
      }
    } catch {
      /* an end is an end */
    } finally {
      this.#connections.delete(from);
    }
  }
}

function close(connection: Deno.Conn): void {
  try {
    connection.close();
  } catch { /* it was closed already */ }
}
