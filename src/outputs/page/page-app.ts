import { type Context, Hono } from "hono";
import { bodyLimit } from "hono/body-limit";
import { streamSSE } from "hono/streaming";
import type { Acknowledge, AnswerOutcome } from "../../alarms/change.ts";
import { readAnswer } from "./answer-form.ts";
import type { Asset } from "./assets.ts";
import { pageDocument, sentenceDocument } from "./document.ts";
import { type Feed, messageBetween, type Shown } from "./feed.ts";
import { headers, notKept, ownNameOnly, ownPagesOnly } from "./guards.ts";

export interface PageAppParts {
  readonly feed: Feed;
  readonly assets: ReadonlyMap<string, Asset>;
  /** `Host` headers that are ours. */
  readonly names: () => ReadonlySet<string>;
  readonly acknowledge: (answer: Acknowledge) => AnswerOutcome | Promise<AnswerOutcome>;
  /** Told of what went wrong inside; the browser gets only a sentence. */
  readonly trouble: (error: Error) => void;
}

/** How long a browser waits before it asks again after the connection broke, in milliseconds. */
const RETRY = 2000;
const LARGEST_FORM = 4096;

/**
 * The page as an application of requests and answers, without a socket:
 *
 *     GET  /          the page, whole and readable without a script
 *     GET  /changes   server-sent events, each a `PageMessage`
 *     POST /answer    a person's answer to an alarm
 *     GET  /page.css  and the other files of `browser/`
 *
 * Guards come first. Sign-in belongs between them and the pages.
 */
export function pageApp({ feed, assets, names, acknowledge, trouble }: PageAppParts): Hono {
  const app = new Hono();
  app.use(headers, notKept, ownNameOnly(names));

  app.get("/", (context) => context.html(pageDocument(feed.current.view)));

  app.get("/changes", (context) =>
    streamSSE(context, async (stream) => {
      let shown: Shown | undefined;
      let latest: Shown | undefined = feed.current;
      while (latest !== undefined && !stream.aborted) {
        const data = JSON.stringify(messageBetween(shown, latest));
        await stream.writeSSE({ data, retry: RETRY });
        shown = latest;
        latest = await feed.after(shown);
      }
    }, (error) => Promise.resolve(trouble(error))));

  const shortForm = bodyLimit({
    maxSize: LARGEST_FORM,
    onError: (context) => context.text("That was too long for an answer.\n", 413),
  });
  app.post("/answer", ownPagesOnly, shortForm, async (context) => {
    const form = await context.req.parseBody().catch(() => undefined);
    const answer = readAnswer(form);
    if (answer === undefined) {
      return outcome(context, { accepted: false, refused: "That was no answer to an alarm." }, 400);
    }
    const result = await acknowledge(answer);
    return outcome(context, result, 409);
  });

  app.get("/:name", (context) => {
    const asset = assets.get(context.req.param("name"));
    if (asset === undefined) return context.notFound();
    return context.body(asset.text, 200, { "Content-Type": asset.type });
  });

  app.notFound((context) => context.text("There is nothing here. The boat is at /.\n", 404));
  app.onError((error, context) => {
    trouble(error);
    return context.text("Something went wrong here; nothing was changed.\n", 500);
  });
  return app;
}

/** A script gets the outcome itself; a plain form gets the page again, or the sentence why not. */
function outcome(context: Context, result: AnswerOutcome, refusedStatus: 400 | 409): Response {
  if (context.req.header("accept") === "application/json") {
    return context.json(result, result.accepted ? 200 : refusedStatus);
  }
  if (result.accepted) return context.redirect("/", 303);
  return context.html(sentenceDocument("Not answered", result.refused), refusedStatus);
}
