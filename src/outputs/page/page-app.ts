import { Hono } from "hono";
import type { Micros } from "../../ground/time.ts";
import type { Door } from "./access/door.ts";
import type { AnswerLinks } from "./answering/answer-links.ts";
import { linkRoutes } from "./answering/link-routes.ts";
import type { Asset } from "./assets.ts";
import type { BoatPage } from "./boat-page.ts";
import { boatRoutes } from "./boat-routes.ts";
import { chooserDocument } from "./chooser.ts";
import { headers, notKept, ownForm, ownNameOnly, ownPagesOnly, shortForm } from "./guards.ts";
import type { PageContext, PageEnv } from "./page-env.ts";
import type { PushDesk } from "./phones/push-desk.ts";
import { pushRoutes } from "./phones/push-routes.ts";

export interface PageAppParts {
  /** By name as in the boat file; a single page stands at the root, several behind a list. */
  readonly boats: ReadonlyMap<string, BoatPage>;
  /** True aboard: there is one boat, and her page is the root. */
  readonly aboard: boolean;
  readonly assets: ReadonlyMap<string, Asset>;
  /** `Host` headers that are ours; undefined where every name will do. */
  readonly names: () => ReadonlySet<string> | undefined;
  readonly door: Door;
  readonly links?: AnswerLinks;
  readonly push?: PushDesk;
  /** IANA name, for pages that are about no one boat. */
  readonly timeZone: string;
  /** Wall time. */
  readonly wall: () => Micros;
  /** Told of what went wrong inside; the browser gets only a sentence. */
  readonly trouble: (error: Error) => void;
}

/**
 * The page as an application of requests and answers, without a socket. In the order in which a
 * request meets it:
 *
 *     everything       security headers, our own name, and for a POST our own page
 *     GET  /page.css   and the other files of `browser/`, which hold nothing of the boat
 *     /sign-in         the way in
 *     /answer/TOKEN    an answer by a link: the token is the right to it
 *     --- the door: from here on only for those who are let in ---
 *     POST /sign-out   the way out
 *     /push            this device is to be told
 *     /                the boat, or the list of boats, each at /boat/NAME/
 */
export function pageApp(parts: PageAppParts): Hono<PageEnv> {
  const { boats, aboard, assets, names, door, links, push, timeZone, wall, trouble } = parts;
  const app = new Hono<PageEnv>();
  app.use(headers, notKept, ownNameOnly(names), ownPagesOnly(door.parts.secure));

  for (const [name, { type, text }] of assets) {
    app.get(`/${name}`, (context) => context.body(text, 200, { "Content-Type": type }));
  }
  app.route("/", door.routes());
  if (links !== undefined) app.route("/", linkRoutes({ links, timeZone, wall }));

  app.use(door.guard);
  app.post("/sign-out", shortForm, ownForm, (context) => door.signOut(context));
  app.route("/", pushRoutes(push));
  if (aboard) {
    const boatOf = () => [...boats.values()][0];
    app.route("/", boatRoutes({ boatOf, isOneOfMany: () => false, trouble }));
  } else {
    app.get("/", (context) => {
      const [only, ...others] = boats.keys();
      if (only !== undefined && others.length === 0) return context.redirect(`/boat/${only}/`);
      return context.html(chooserDocument(boats, context.get("visitor")));
    });
    const boatOf = (context: PageContext) => boats.get(context.req.param("boat") ?? "");
    const isOneOfMany = () => boats.size > 1;
    app.route("/boat/:boat/", boatRoutes({ boatOf, isOneOfMany, trouble }));
  }

  app.notFound((context) => context.text("There is nothing here. The boat is at /.\n", 404));
  app.onError((error, context) => {
    trouble(error);
    return context.text("Something went wrong here; nothing was changed.\n", 500);
  });
  return app;
}
