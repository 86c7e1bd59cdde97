import { Hono } from "hono";
import type { Micros } from "../../../ground/time.ts";
import { shortForm } from "../guards.ts";
import type { PageContext, PageEnv } from "../page-env.ts";
import type { AnswerLinks, LinkSubject } from "./answer-links.ts";
import { linkDocument, refusedLinkDocument } from "./link-page.ts";
import { LINK_DONE, whyMoot } from "./link-words.ts";

export interface LinkRoutesParts {
  readonly links: AnswerLinks;
  readonly timeZone: string;
  /** Wall time. */
  readonly wall: () => Micros;
}

/**
 * `GET` and `POST /answer/TOKEN`. The token is the right to answer, so nobody has to sign in; the
 * boat proves it. A script (`Accept: application/json`) gets the outcome itself.
 */
export function linkRoutes({ links, timeZone, wall }: LinkRoutesParts): Hono<PageEnv> {
  const routes = new Hono<PageEnv>();
  const show = (subject: Extract<LinkSubject, { usable: true }>, said: string) =>
    linkDocument(subject, said, { now: wall(), timeZone });

  routes.get("/answer/:token", (context) => {
    const subject = links.look(context.req.param("token"));
    if (!subject.usable) return context.html(refusedLinkDocument(subject.refused), 410);
    return context.html(show(subject, ""));
  });

  routes.post("/answer/:token", shortForm, async (context) => {
    const token = context.req.param("token");
    const subject = links.look(token);
    if (!subject.usable) return refused(context, subject.refused, 410);
    const { claims, status } = subject;
    const moot = whyMoot(claims, status);
    if (moot !== undefined) return done(context, moot, show(subject, moot));
    const outcome = await links.answer(token, claims, context.env.remote);
    if (!outcome.accepted) return refused(context, outcome.refused, 409);
    const said = LINK_DONE[claims.action];
    const after = links.look(token);
    return done(context, said, show(after.usable ? after : subject, said));
  });
  return routes;
}

function done(context: PageContext, said: string, page: string): Response {
  return wantsData(context) ? context.json({ accepted: true, said }) : context.html(page);
}

function refused(context: PageContext, sentence: string, status: 409 | 410): Response {
  if (wantsData(context)) return context.json({ accepted: false, refused: sentence }, status);
  return context.html(refusedLinkDocument(sentence), status);
}

export function wantsData(context: PageContext): boolean {
  return context.req.header("accept") === "application/json";
}
