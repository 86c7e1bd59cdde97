import type { Context } from "hono";
import type { Visitor } from "./access/role.ts";

/** What the page knows of a request beside the request itself. */
export interface PageEnv {
  Bindings: {
    /** The address that it came from, as the socket says. */
    readonly remote: string;
  };
  Variables: {
    /** Who asks; set behind the door. */
    visitor: Visitor;
    /** What came with a form of ours; set by `ownForm`. */
    form: Readonly<Record<string, unknown>>;
  };
}

export type PageContext = Context<PageEnv>;
