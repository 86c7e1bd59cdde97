import { createHash, timingSafeEqual } from "node:crypto";
import type { Context, MiddlewareHandler } from "hono";
import { bodyLimit } from "hono/body-limit";
import { secureHeaders } from "hono/secure-headers";
import type { PageEnv } from "./page-env.ts";

/**
 * Nothing comes from elsewhere, nothing inline, nobody frames the page. `same-origin` as the
 * referrer policy, because without a referrer a browser sends a form with `Origin: null`.
 * No HSTS: who takes the certificate away again must still reach the page.
 */
export const headers: MiddlewareHandler = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: ["'none'"],
    scriptSrc: ["'self'"],
    styleSrc: ["'self'"],
    imgSrc: ["'self'"],
    connectSrc: ["'self'"],
    manifestSrc: ["'self'"],
    workerSrc: ["'self'"],
    formAction: ["'self'"],
    baseUri: ["'none'"],
    frameAncestors: ["'none'"],
  },
  referrerPolicy: "same-origin",
  xFrameOptions: "DENY",
  strictTransportSecurity: false,
  permissionsPolicy: { camera: [], geolocation: [], microphone: [], payment: [], usb: [] },
});

export const notKept: MiddlewareHandler = async (context, next) => {
  await next();
  context.header("Cache-Control", "no-store");
};

/**
 * Refuses a request that was meant for another name: a stranger's page can make its own name point
 * at this computer, but it cannot change the name that the browser then asks for. Where people sign
 * in, their cookie does the same, and the page may have names that it does not know.
 * @param names `Host` headers that are ours; undefined where every name will do
 */
export function ownNameOnly(names: () => ReadonlySet<string> | undefined): MiddlewareHandler {
  return async (context, next) => {
    const known = names();
    const host = hostOf(context).toLowerCase();
    if (known === undefined || known.has(host)) return await next();
    return context.text(
      `This page answers only to its own address: ${[...known].join(", ")}.\n`,
      421,
    );
  };
}

/**
 * Refuses a form or script of another page. A browser always says where a POST comes from. Behind a
 * proxy with a certificate of its own the page is `https` outside and `http` here.
 * @param secure true where the page itself speaks TLS
 */
export function ownPagesOnly(secure: boolean): MiddlewareHandler {
  return async (context, next) => {
    if (context.req.method === "GET" || context.req.method === "HEAD") return await next();
    const origin = context.req.header("origin");
    const host = hostOf(context);
    if (origin === `https://${host}` || (!secure && origin === `http://${host}`)) {
      return await next();
    }
    return context.text(
      "An answer is taken only from this page itself; nothing was changed.\n",
      403,
    );
  };
}

/** The name that a browser asked for; HTTP/2 has no `Host` but `:authority`, which is in the URL. */
function hostOf({ req }: Context): string {
  return req.header("host") ?? new URL(req.url).host;
}

const LARGEST_FORM = 4096;

export const shortForm: MiddlewareHandler = bodyLimit({
  maxSize: LARGEST_FORM,
  onError: (context) => context.text("That was too long for an answer.\n", 413),
});

/** Takes a form only with the token that this visitor was given, and hands on what is in it. */
export const ownForm: MiddlewareHandler<PageEnv> = async (context, next) => {
  const form = await context.req.parseBody().catch(() => ({}));
  const { token, ...rest }: Record<string, unknown> = form;
  const right = context.get("visitor").formToken;
  if (typeof token !== "string" || !isSame(token, right)) {
    return context.text("That form is not of this page, or too old. Load the page anew.\n", 403);
  }
  context.set("form", rest);
  return await next();
};

export const actOnly: MiddlewareHandler<PageEnv> = async (context, next) => {
  if (context.get("visitor").role === "act") return await next();
  return context.text("You have signed in to watch; to act needs the other passphrase.\n", 403);
};

/** Compares in a time that tells nothing of where the two differ, nor how long the right one is. */
function isSame(one: string, other: string): boolean {
  const hash = (text: string) => createHash("sha256").update(text).digest();
  return timingSafeEqual(hash(one), hash(other));
}
