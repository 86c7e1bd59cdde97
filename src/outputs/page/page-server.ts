import type { Acknowledge, AnswerOutcome } from "../../alarms/change.ts";
import { readAssets } from "./assets.ts";
import type { BoatView } from "./boat-view.ts";
import { Feed } from "./feed.ts";
import {
  hostAndPort,
  type ListeningAddress,
  ownNames,
  refuseUnlessLoopback,
  startError,
} from "./listening-address.ts";
import { pageApp } from "./page-app.ts";

export interface PageServerParts {
  /** What is shown before the first `publish`. */
  readonly view: BoatView;
  readonly acknowledge: (answer: Acknowledge) => AnswerOutcome | Promise<AnswerOutcome>;
  readonly trouble: (error: Error) => void;
}

/**
 * Serves the page to this computer. Call `start` once, `publish` a few times a second also when
 * nothing changed (it is the heartbeat by which a browser knows that the boat still speaks), and
 * `stop` at the end.
 */
export class PageServer {
  readonly #feed: Feed;
  readonly #parts: PageServerParts;
  #server?: Deno.HttpServer<Deno.NetAddr>;

  constructor(parts: PageServerParts) {
    this.#parts = parts;
    this.#feed = new Feed(parts.view);
  }

  /**
   * Begins to listen; port 0 takes any free one.
   * @throws {PageStartError} where the address is not this computer's own, or not free
   */
  async start(address: ListeningAddress): Promise<{ readonly url: string }> {
    refuseUnlessLoopback(address);
    const { acknowledge, trouble } = this.#parts;
    let names: ReadonlySet<string> = new Set();
    const app = pageApp({
      feed: this.#feed,
      assets: await readAssets(),
      names: () => names,
      acknowledge,
      trouble,
    });
    try {
      this.#server = Deno.serve({
        hostname: address.hostname.replace(/^\[(.*)\]$/, "$1"),
        port: address.port,
        onListen: () => {},
      }, (request) => app.fetch(request));
    } catch (error) {
      throw startError(error, address) ?? error;
    }
    const listening = { hostname: address.hostname, port: this.#server.addr.port };
    names = ownNames(listening);
    return { url: `http://${hostAndPort(listening)}/` };
  }

  publish(view: BoatView): void {
    this.#feed.publish(view);
  }

  /** Ends the streams, answers what was asked, and stops listening. */
  async stop(): Promise<void> {
    this.#feed.close();
    await this.#server?.shutdown();
  }
}
