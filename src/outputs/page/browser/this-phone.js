import { send } from "./forms.js";

const byId = (id) => document.getElementById(id);

/** Offers to tell this device of alarms, or says why that cannot be and what to do. */
export async function offerThisPhone() {
  const why = whyNot();
  if (why !== "") return say(why);
  try {
    const { offered, publicKey, people } = await (await fetch("/push")).json();
    if (!offered) {
      return say(
        "The boat tells nobody by push messages: there are no people with that way in the settings.",
      );
    }
    for (const person of people) byId("push-person").append(new Option(person));
    const worker = await navigator.serviceWorker.register("/service-worker.js");
    byId("push-begin").onclick = () => tried(() => begin(worker, publicKey));
    byId("push-end").onclick = () => tried(() => end(worker));
    byId("push-form").hidden = false;
    show(await worker.pushManager.getSubscription() !== null);
  } catch (error) {
    say(`This browser does not let the boat tell this device: ${error.message}`);
  }
}

function whyNot() {
  if (!isSecureContext) {
    return "This device cannot be told of alarms from here: browsers allow that only to a page with " +
      "a certificate that they trust. Give the page one (page: certificate and key in the " +
      "settings), or let the shore side serve it.";
  }
  if ("serviceWorker" in navigator && "PushManager" in window) return "";
  return /iPhone|iPad/.test(navigator.userAgent)
    ? "To be told of alarms here, put this page on the home screen first, and open it from there."
    : "This browser does not know push messages, so this device cannot be told of alarms by it.";
}

async function begin(worker, publicKey) {
  if (await Notification.requestPermission() !== "granted") {
    return say(
      "This browser was told not to show messages of this page. Allow that in its settings.",
    );
  }
  const subscription = await worker.pushManager.subscribe({
    userVisibleOnly: true,
    applicationServerKey: publicKey,
  });
  const person = byId("push-person").value;
  const outcome = await send("/push", { person, subscription: JSON.stringify(subscription) });
  if (outcome.accepted) return show(true);
  await subscription.unsubscribe();
  say(`Not set up: ${outcome.refused}`);
}

async function end(worker) {
  const subscription = await worker.pushManager.getSubscription();
  if (subscription !== null) {
    await send("/push/end", { endpoint: subscription.endpoint });
    await subscription.unsubscribe();
  }
  show(false);
}

/** What a browser or its push service refuses is said, not thrown. */
async function tried(work) {
  try {
    await work();
  } catch (error) {
    say(`That did not work: ${error.message}`);
  }
}

function show(isTold) {
  byId("push-begin").hidden = isTold;
  byId("push-person").parentElement.hidden = isTold;
  byId("push-end").hidden = !isTold;
  say(
    isTold
      ? "This device is told of alarms."
      : "This device is not told of alarms. It can be, also while this page is closed.",
  );
}

function say(sentence) {
  byId("push-words").textContent = sentence;
}
