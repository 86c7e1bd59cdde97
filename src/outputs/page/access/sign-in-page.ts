import { markup, NOTHING } from "../markup.ts";
import { documentOf } from "../page-frame.ts";
import { LONGEST_NAME } from "./sign-in-form.ts";

/** The form to sign in. @param refused a sentence, where the last try was */
export function signInDocument(refused = ""): string {
  return documentOf(
    "Sign in",
    markup`<main class="short"><h1>Sign in</h1>
${refused === "" ? NOTHING : markup`<p class="refused" role="alert">${refused}</p>`}
<form method="post" action="/sign-in" class="stacked">
<label>Your name<input name="who" autocomplete="nickname" maxlength="${LONGEST_NAME}"></label>
<p class="note">It is written beside what you answer, so that the others know.</p>
<label>Passphrase<input name="passphrase" type="password" autocomplete="current-password"
required></label>
<button>Sign in</button>
</form></main>`,
  );
}
