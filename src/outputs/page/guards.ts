import type { MiddlewareHandler } from "hono";
import { secureHeaders } from "hono/secure-headers";

/**
 * Nothing comes from elsewhere, nothing inline, nobody frames the page. `same-origin` as the
 * referrer policy, because without a referrer a browser sends a form with `Origin: null`.
 */
export const headers: MiddlewareHandler = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: ["'none'"],
    scriptSrc: ["'self'"],
    styleSrc: ["'self'"],
    imgSrc: ["'self'"],
    connectSrc: ["'self'"],
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
 * at this computer, but it cannot change the name that the browser then asks for.
 */
export function ownNameOnly(names: () => ReadonlySet<string>): MiddlewareHandler {
  return async (context, next) => {
    const host = context.req.header("host")?.toLowerCase() ?? "";
    if (names().has(host)) return await next();
    return context.text(
      `This page answers only to its own address: ${[...names()].join(", ")}.\n`,
      421,
    );
  };
}

/** Refuses a form or script of another page. A browser always says where a POST comes from. */
export const ownPagesOnly: MiddlewareHandler = async (context, next) => {
  const origin = context.req.header("origin");
  if (origin === `http://${context.req.header("host")}`) return await next();
  return context.text("An answer is taken only from this page itself; nothing was changed.\n", 403);
};
