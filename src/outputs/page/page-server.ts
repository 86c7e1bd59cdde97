import { randomBytes } from "node:crypto";
import type { Clock } from "../../ground/clock.ts";
import { Door } from "./access/door.ts";
import type { Passphrases } from "./access/passphrases.ts";
import type { AnswerLinks } from "./answering/answer-links.ts";
import { readAssets } from "./assets.ts";
import type { BoatActions, BoatPage } from "./boat-page.ts";
import type { BoatView } from "./boat-view.ts";
import { Feed } from "./feed.ts";
import {
  hostAndPort,
  type ListeningAddress,
  ownNames,
  refuseOpenPage,
  startError,
} from "./listening-address.ts";
import { pageApp } from "./page-app.ts";
import type { PushDesk } from "./phones/push-desk.ts";

export interface PageServerParts {
  /** True aboard: her page is the root, and there is one boat. */
  readonly aboard: boolean;
  readonly passphrases?: Passphrases;
  /** PEM texts, with which the page speaks TLS. */
  readonly certificate?: { readonly cert: string; readonly key: string };
  readonly links?: AnswerLinks;
  readonly push?: PushDesk;
  /** IANA name, for pages that are about no one boat. */
  readonly timeZone: string;
  readonly clock: Clock;
  readonly trouble: (error: Error) => void;
}

/**
 * Serves the pages of one or several boats. Call `start` once, `show` for each boat, `publish` a few
 * times a second also when nothing changed (it is the heartbeat by which a browser knows that the
 * boat still speaks), and `stop` at the end.
 */
export class PageServer {
  readonly #boats = new Map<string, BoatPage>();
  readonly #parts: PageServerParts;
  #server?: Deno.HttpServer<Deno.NetAddr>;

  constructor(parts: PageServerParts) {
    this.#parts = parts;
  }

  /** @param name as in the boat file; @param view what is shown before the first `publish` */
  show(name: string, view: BoatView, actions: BoatActions): void {
    this.#boats.set(name, { feed: new Feed(view), actions });
  }

  publish(name: string, view: BoatView): void {
    this.#boats.get(name)?.feed.publish(view);
  }

  /**
   * Begins to listen; port 0 takes any free one.
   * @throws {PageStartError} where the address is not free, or the page would be open to others
   */
  async start(address: ListeningAddress): Promise<{ readonly url: string }> {
    const { passphrases, certificate, clock, ...parts } = this.#parts;
    if (passphrases === undefined) refuseOpenPage(address);
    let names: ReadonlySet<string> | undefined = new Set();
    const secure = certificate !== undefined;
    const app = pageApp({
      ...parts,
      boats: this.#boats,
      assets: await readAssets(),
      names: () => names,
      door: new Door({ passphrases, secure, now: () => clock.steady(), newSecret }),
      wall: () => clock.wall(),
    });
    try {
      this.#server = Deno.serve({
        hostname: address.hostname.replace(/^\[(.*)\]$/, "$1"),
        port: address.port,
        onListen: () => {},
        ...certificate,
      }, (request, { remoteAddr }) => app.fetch(request, { remote: remoteAddr.hostname }));
    } catch (error) {
      throw startError(error, address) ?? error;
    }
    const listening = { hostname: address.hostname, port: this.#server.addr.port };
    names = passphrases === undefined ? ownNames(listening) : undefined;
    return { url: `${secure ? "https" : "http"}://${hostAndPort(listening)}/` };
  }

  /** Ends the streams, answers what was asked, and stops listening. */
  async stop(): Promise<void> {
    for (const { feed } of this.#boats.values()) feed.close();
    await this.#server?.shutdown();
  }
}

function newSecret(): string {
  return randomBytes(32).toString("base64url");
}
