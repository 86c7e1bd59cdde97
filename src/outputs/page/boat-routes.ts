import { Hono } from "hono";
import { streamSSE } from "hono/streaming";
import type { AnswerOutcome } from "../../alarms/change.ts";
import { isNear } from "./access/near.ts";
import { readAnswerForm } from "./answering/answer-form.ts";
import { readConditionForm } from "./answering/condition-form.ts";
import { wantsData } from "./answering/link-routes.ts";
import type { BoatPage } from "./boat-page.ts";
import { pageDocument } from "./document.ts";
import { messageBetween, type Shown } from "./feed.ts";
import { actOnly, ownForm, shortForm } from "./guards.ts";
import type { PageContext, PageEnv } from "./page-env.ts";
import { sentenceDocument } from "./page-frame.ts";
import { roomLeftData } from "./room-left-data.ts";
import { hailDocument, hailSentences } from "./phones/hail-page.ts";

/** How long a browser waits before it asks again after the connection broke, in milliseconds. */
const RETRY = 2000;
/** The page itself, from what lies below it. */
const BACK = "./";

export interface BoatRoutesParts {
  /** Which boat a request is about; undefined where there is no such boat. */
  readonly boatOf: (context: PageContext) => BoatPage | undefined;
  readonly isOneOfMany: () => boolean;
  readonly trouble: (error: Error) => void;
}

/**
 * One boat's page, below any address that ends with a slash:
 *
 *     GET  .           the page, whole and readable without a script
 *     GET  changes     server-sent events, each a `PageMessage`
 *     GET  room-left   the room left of each watched rule, as data
 *     POST answer      a person's answer to an alarm
 *     POST condition   who is aboard
 *     POST hail        a test message every way to everybody
 */
export function boatRoutes(
  { boatOf, isOneOfMany, trouble }: BoatRoutesParts,
): Hono<PageEnv> {
  const routes = new Hono<PageEnv>();

  routes.get("/", (context) => {
    const boat = boatOf(context);
    if (boat === undefined) return context.notFound();
    return context.html(
      pageDocument(boat.feed.current.view, context.get("visitor"), isOneOfMany()),
    );
  });

  routes.get("/changes", (context) => {
    const boat = boatOf(context);
    if (boat === undefined) return context.notFound();
    const { role, isStillIn } = context.get("visitor");
    return streamSSE(context, async (stream) => {
      let shown: Shown | undefined;
      let latest: Shown | undefined = boat.feed.current;
      while (latest !== undefined && !stream.aborted && isStillIn()) {
        const data = JSON.stringify(messageBetween(shown, latest, role));
        await stream.writeSSE({ data, retry: RETRY });
        shown = latest;
        latest = await boat.feed.after(shown);
      }
    }, (error) => Promise.resolve(trouble(error)));
  });

  routes.get("/room-left", (context) => {
    const view = boatOf(context)?.feed.current.view;
    if (view?.roomLeft === undefined) return context.notFound();
    return context.json(roomLeftData(view.roomLeft, view.now));
  });

  routes.post("/answer", shortForm, ownForm, actOnly, async (context) => {
    const answer = readAnswerForm(context.get("form"), context.get("visitor").who);
    const boat = boatOf(context);
    if (boat === undefined || answer === undefined) {
      return outcome(context, refused("That was no answer to an alarm."), 400);
    }
    const isAfar = !isNear(context.env.remote, context.req.raw.headers);
    return outcome(context, await boat.actions.answer(answer, isAfar), 409);
  });

  routes.post("/condition", shortForm, ownForm, actOnly, async (context) => {
    const condition = readConditionForm(context.get("form"));
    const set = boatOf(context)?.actions.setCondition;
    if (set === undefined || condition === undefined) {
      return outcome(context, refused("That did not say who is aboard."), 400);
    }
    return outcome(context, await set(condition, context.get("visitor").who), 409);
  });

  routes.post("/hail", shortForm, ownForm, actOnly, async (context) => {
    const hail = boatOf(context)?.actions.hail;
    if (hail === undefined) return outcome(context, refused("There is nobody to be told."), 400);
    const answers = await hail();
    if (!wantsData(context)) return context.html(hailDocument(answers, BACK));
    return context.json({ accepted: true, said: hailSentences(answers).join(" ") });
  });
  return routes;
}

function refused(sentence: string): AnswerOutcome {
  return { accepted: false, refused: sentence };
}

/** A script gets the outcome itself; a plain form gets the page again, or the sentence why not. */
function outcome(context: PageContext, result: AnswerOutcome, refusedStatus: 400 | 409): Response {
  if (wantsData(context)) return context.json(result, result.accepted ? 200 : refusedStatus);
  if (result.accepted) return context.redirect(BACK, 303);
  return context.html(sentenceDocument("Not answered", result.refused, BACK), refusedStatus);
}
