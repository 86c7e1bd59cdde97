import { onTestFinished } from "vitest";

export interface Received {
  readonly key: string;
  readonly message: { readonly about: string; readonly text: string };
  readonly status: number;
}

/** A push service on loopback that answers with these statuses in turn, then with 200 for ever. */
export class PhoneService {
  readonly received: Received[] = [];
  readonly #server: Deno.HttpServer<Deno.NetAddr>;

  constructor(readonly statuses: number[] = []) {
    this.#server = Deno.serve({ hostname: "127.0.0.1", port: 0, onListen: () => {} }, (request) => {
      return this.#answer(request);
    });
    onTestFinished(() => this.#server.shutdown());
  }

  get url(): string {
    return `http://127.0.0.1:${this.#server.addr.port}/push`;
  }

  /** Messages that were taken, in order. */
  get taken(): Received[] {
    return this.received.filter(({ status }) => status === 200);
  }

  async #answer(request: Request): Promise<Response> {
    const key = request.headers.get("Idempotency-Key") ?? "";
    const message: Received["message"] = await request.json();
    const status = this.statuses.shift() ?? 200;
    this.received.push({ key, message, status });
    return new Response(null, { status });
  }
}
