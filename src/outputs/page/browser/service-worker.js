// Shows what the boat tells while no page is open, and carries the answer back. What comes is a
// `PushPayload` (src/ground/push-payload.ts).

self.addEventListener("push", (event) => {
  event.waitUntil(show(event.data?.json() ?? {}));
});

self.addEventListener("notificationclick", (event) => {
  const { url, actions = [] } = event.notification.data ?? {};
  const chosen = actions.find(({ action }) => action === event.action);
  event.notification.close();
  event.waitUntil(chosen === undefined ? open(url ?? "/") : answer(chosen, event.notification));
});

/** The tag is the key of the message: the same one twice is shown once. */
function show({ title = "The boat", body = "", tag, url, actions = [], time }) {
  return self.registration.showNotification(title, {
    body,
    tag,
    renotify: tag !== undefined,
    icon: "/mark.svg",
    timestamp: time === undefined ? undefined : Date.parse(time) || time,
    requireInteraction: true,
    actions: actions.map(({ action, title }) => ({ action, title })),
    data: { url, actions },
  });
}

/** Answers by the link of the button; where that cannot be done from here, opens it. */
async function answer({ url }, { title, tag }) {
  if (new URL(url, self.location.href).origin !== self.location.origin) return await open(url);
  try {
    const reply = await fetch(url, { method: "POST", headers: { Accept: "application/json" } });
    const { accepted, said, refused } = await reply.json();
    await show({ title, body: accepted ? said : `Not answered: ${refused}`, tag, url });
  } catch {
    await show({ title, body: "The answer did not reach the boat. Touch to try again.", tag, url });
  }
}

async function open(url) {
  const windows = await self.clients.matchAll({ type: "window" });
  const there = windows.find((window) => window.url === new URL(url, self.location.href).href);
  return there === undefined ? await self.clients.openWindow(url) : await there.focus();
}
