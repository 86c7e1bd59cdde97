const byId = (id) => document.getElementById(id);

/** Sends a form of the page with the token that this visitor was given. */
export async function send(address, fields) {
  const response = await fetch(address, {
    method: "POST",
    headers: { Accept: "application/json" },
    body: new URLSearchParams({ ...fields, token: document.documentElement.dataset.token }),
  });
  if (response.status === 401) return { accepted: false, refused: "Sign in again first." };
  if (response.headers.get("content-type")?.includes("json")) return await response.json();
  return { accepted: false, refused: await response.text() };
}

/** Sends answers without leaving the page, and says what became of them. */
export function sendFormsQuietly() {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    // A page is left by signing out; its other forms lie beside it.
    if (form.getAttribute("action")?.startsWith("/")) return;
    event.preventDefault();
    answer(form, event.submitter);
  });
}

async function answer(form, button) {
  const fields = Object.fromEntries(new FormData(form, button));
  button?.setAttribute("disabled", "");
  let sentence = "";
  try {
    const { accepted, refused, said } = await send(form.action, fields);
    sentence = accepted ? said ?? "Answered." : `Not answered: ${refused}`;
  } catch {
    sentence = "The answer did not reach the boat. Try again once she is heard.";
  }
  button?.removeAttribute("disabled");
  const notice = byId("notice");
  notice.textContent = sentence;
  notice.hidden = false;
}
