import { Hono } from "hono";
import { z } from "zod";
import type { AnswerOutcome } from "../../../alarms/change.ts";
import { actOnly, ownForm, shortForm } from "../guards.ts";
import type { PageContext, PageEnv } from "../page-env.ts";
import type { PushDesk } from "./push-desk.ts";

z.config({ jitless: true });

const subscribing = z.object({ person: z.string().min(1).max(100), subscription: z.string() });
const unsubscribing = z.object({ endpoint: z.url().max(2_000) });

/**
 * `GET /push` gives what a browser needs to ask its push service; `POST /push` and
 * `POST /push/end` say that this device is to be told, or no more. That is for those who may act:
 * what a device is told carries the links by which its person answers.
 */
export function pushRoutes(desk: PushDesk | undefined): Hono<PageEnv> {
  const routes = new Hono<PageEnv>();
  routes.get(
    "/push",
    (context) =>
      desk === undefined
        ? context.json({ offered: false })
        : context.json({ offered: true, publicKey: desk.publicKey, people: desk.people }),
  );
  routes.post("/push", shortForm, ownForm, actOnly, async (context) => {
    const read = subscribing.safeParse(context.get("form"));
    if (desk === undefined || !read.success) return refused(context);
    const { subscription, person } = read.data;
    return answer(context, await desk.subscribe(parsed(subscription), person));
  });
  routes.post("/push/end", shortForm, ownForm, actOnly, async (context) => {
    const read = unsubscribing.safeParse(context.get("form"));
    if (desk === undefined || !read.success) return refused(context);
    return answer(context, await desk.unsubscribe(read.data.endpoint));
  });
  return routes;
}

function refused(context: PageContext): Response {
  return answer(context, { accepted: false, refused: "That did not say which device is meant." });
}

function answer(context: PageContext, outcome: AnswerOutcome): Response {
  return context.json(outcome, outcome.accepted ? 200 : 400);
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
