import { Hono, type MiddlewareHandler } from "hono";
import { deleteCookie, getCookie, setCookie } from "hono/cookie";
import { ANSWERED_ON_PAGE } from "../../../alarms/answer-words.ts";
import { type Micros, MINUTE, SECOND } from "../../../ground/time.ts";
import { shortForm } from "../guards.ts";
import type { PageContext, PageEnv } from "../page-env.ts";
import { GuessLimit } from "./guess-limit.ts";
import { isThroughProxy } from "./near.ts";
import type { Passphrases } from "./passphrases.ts";
import type { Visitor } from "./role.ts";
import { LONGEST, Sessions } from "./sessions.ts";
import { readSignIn } from "./sign-in-form.ts";
import { signInDocument } from "./sign-in-page.ts";

export interface DoorParts {
  /** Without any the page is open, on this computer only. */
  readonly passphrases: Passphrases | undefined;
  /** True where the page itself speaks TLS. */
  readonly secure: boolean;
  /** Steady time. */
  readonly now: () => Micros;
  /** 256 bits of chance, in letters that a cookie can carry. */
  readonly newSecret: () => string;
}

const COOKIE = "sternfast";

/** Lets people in and out, and says who asks. */
export class Door {
  readonly #sessions: Sessions;
  readonly #guesses = new GuessLimit();
  readonly #open: Visitor;

  constructor(readonly parts: DoorParts) {
    this.#sessions = new Sessions(parts.newSecret);
    this.#open = {
      role: "act",
      who: ANSWERED_ON_PAGE,
      formToken: parts.newSecret(),
      signedIn: false,
      isStillIn: () => true,
    };
  }

  /** Lets only those through who may at least look. */
  readonly guard: MiddlewareHandler<PageEnv> = async (context, next) => {
    const visitor = this.visitorOf(context);
    if (visitor !== undefined) {
      context.set("visitor", visitor);
      return await next();
    }
    if (this.parts.passphrases === undefined) return context.text(NOT_THROUGH_A_PROXY, 403);
    const isPage = context.req.method === "GET" &&
      context.req.header("accept")?.includes("text/html");
    return isPage ? context.redirect("/sign-in", 303) : context.text(SIGN_IN_FIRST, 401);
  };

  visitorOf(context: PageContext): Visitor | undefined {
    if (this.parts.passphrases === undefined) {
      return isThroughProxy(context.req.raw.headers) ? undefined : this.#open;
    }
    const secret = this.#secretIn(context);
    const session = secret && this.#sessions.find(secret, this.parts.now());
    if (!secret || !session) return undefined;
    const isStillIn = () => this.#sessions.isOpen(secret, this.parts.now());
    return { ...session, signedIn: true, isStillIn };
  }

  /** `GET` and `POST /sign-in`. Signing out needs a form of our own and stands with the others. */
  routes(): Hono<PageEnv> {
    const routes = new Hono<PageEnv>();
    routes.get("/sign-in", (context) => context.html(signInDocument()));
    routes.post("/sign-in", shortForm, (context) => this.#signIn(context));
    return routes;
  }

  signOut(context: PageContext): Response {
    const secret = this.#secretIn(context);
    if (secret) this.#sessions.end(secret);
    deleteCookie(context, COOKIE, this.#cookieOptions());
    return context.redirect("/sign-in", 303);
  }

  async #signIn(context: PageContext): Promise<Response> {
    const { passphrases, now, secure } = this.parts;
    const refuse = (sentence: string, status: 400 | 403 | 429) =>
      context.html(signInDocument(sentence), status);
    if (passphrases === undefined) return context.redirect("/", 303);
    const form = readSignIn(await context.req.parseBody().catch(() => undefined));
    if (form === undefined) return refuse("That form was not filled in.", 400);

    const address = context.env.remote;
    const admitted = now();
    const wait = this.#guesses.admit(address, admitted);
    if (wait > 0) {
      context.header("Retry-After", String(Math.ceil(wait / SECOND)));
      const minutes = Math.ceil(wait / MINUTE);
      return refuse(`Too many wrong passphrases. Try again in ${minutes} min.`, 429);
    }
    const role = await passphrases.roleOf(form.passphrase);
    if (role === undefined) return refuse("That is not the passphrase.", 403);
    this.#guesses.wasRight(address, admitted);

    // Whoever was signed in here is not any more; a new sign-in never goes on with an old secret.
    const before = this.#secretIn(context);
    if (before) this.#sessions.end(before);
    setCookie(context, COOKIE, this.#sessions.begin(role, form.who, now()), {
      ...this.#cookieOptions(),
      httpOnly: true,
      sameSite: "Strict",
      secure,
      maxAge: LONGEST / SECOND,
    });
    return context.redirect("/", 303);
  }

  #secretIn(context: PageContext): string | undefined {
    return this.parts.secure ? getCookie(context, COOKIE, "host") : getCookie(context, COOKIE);
  }

  /** `__Host-` keeps a neighbour's page from setting it (RFC 6265bis, section 4.1.3.2). */
  #cookieOptions() {
    return this.parts.secure
      ? { path: "/", prefix: "host", secure: true } as const
      : { path: "/" } as const;
  }
}

const SIGN_IN_FIRST = "Sign in first.\n";
const NOT_THROUGH_A_PROXY =
  "This page has no passphrase, so it is for this computer only and not through a proxy.\n";
