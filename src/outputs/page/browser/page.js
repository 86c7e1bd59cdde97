import { noWordSince, timeInWords } from "./ago.js";
import { sendFormsQuietly } from "./forms.js";
import { offerThisPhone } from "./this-phone.js";

/** Without an event for this long, in milliseconds, the page says that it is old. */
const STALE_AFTER = 5000;
/** How long to wait before asking anew where the browser has given up by itself. */
const RETRY = 3000;

const root = document.documentElement;
const byId = (id) => document.getElementById(id);

/** The boat's clock: her last word, and this device's time since it came. */
let boatTime = Number(root.dataset.now);
let cameAt = Date.now();
let justOpened = true;

function boatNow() {
  return boatTime + Math.max(0, Date.now() - cameAt);
}

/** The element that a text of HTML holds. */
function elementOf(html) {
  const template = document.createElement("template");
  template.innerHTML = html;
  return template.content.firstElementChild;
}

/** Does what a `PageMessage` says; what had the focus or stood open stays so. */
function apply({ now, title, announce, replaced, ordered, heard }) {
  boatTime = now;
  cameAt = Date.now();
  const focused = document.activeElement?.id;
  const open = [...document.querySelectorAll("details[open]")].map((details) => details.id);

  for (const [id, html] of Object.entries(replaced)) byId(id)?.replaceWith(elementOf(html));
  for (const [id, children] of Object.entries(ordered)) {
    const list = byId(`${id}-list`) ?? byId(id);
    const elements = children.map(({ id, html }) => html ? elementOf(html) : byId(id));
    list?.replaceChildren(...elements.filter((element) => element !== null));
  }
  for (const [id, at] of Object.entries(heard)) {
    const time = byId(id)?.querySelector("time.heard");
    if (time) time.dataset.at = at;
  }

  for (const id of open) byId(id)?.setAttribute("open", "");
  if (focused && document.activeElement?.id !== focused) byId(focused)?.focus();
  document.title = title;
  // What stands on the page as it opens is read anyway; after a broken connection it is news.
  if (announce.length > 0 && !justOpened) byId("announce").textContent = announce.join(". ");
  justOpened = false;
  tick();
}

/** Moves every age on, and says so when nothing has come for a while. */
function tick() {
  const now = boatNow();
  for (const time of document.querySelectorAll("time[data-at]")) {
    const words = timeInWords(Number(time.dataset.at), now, time.dataset.form);
    if (time.textContent !== words) time.textContent = words;
  }
  sayIfStale(now);
}

/** The sentence moves on each second; a screen reader says it once. */
function sayIfStale(now) {
  const stale = Date.now() - cameAt > STALE_AFTER;
  const notice = byId("stale");
  if (stale) {
    const sentence = noWordSince(boatTime, now, root.dataset.timeZone);
    notice.textContent = sentence;
    if (notice.hidden) byId("announce").textContent = sentence;
  }
  notice.hidden = !stale;
  root.classList.toggle("stale", stale);
}

function listen() {
  const changes = new EventSource("changes");
  changes.onmessage = (event) => apply(JSON.parse(event.data));
  changes.onerror = () => {
    if (changes.readyState === EventSource.CLOSED) setTimeout(listen, RETRY);
  };
}

function offerLight() {
  const label = byId("light");
  const choice = label.querySelector("select");
  choice.value = root.dataset.light ?? "";
  choice.onchange = () => {
    root.dataset.light = choice.value;
    try {
      localStorage.setItem("light", choice.value);
    } catch {
      // No storage: the choice holds until the page is left.
    }
  };
  label.hidden = false;
}

if (root.dataset.now !== undefined) {
  sendFormsQuietly();
  offerLight();
  if (byId("this-phone")) offerThisPhone();
  setInterval(tick, 1000);
  listen();
}
