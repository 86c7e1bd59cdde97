import { type Markup, markup, NOTHING } from "../markup.ts";
import type { Visitor } from "./role.ts";

/** The way out, for whoever came in by a passphrase. */
export function signOutForm({ signedIn, who, role }: Visitor): Markup {
  if (!signedIn) return NOTHING;
  const may = role === "watch" ? ", to watch only" : "";
  return markup`<form method="post" action="/sign-out" id="sign-out">
<input type="hidden" name="token" value="">
<span class="note">Signed in as ${who}${may}</span> <button class="quiet">Sign out</button></form>`;
}
