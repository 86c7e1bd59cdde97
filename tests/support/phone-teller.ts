import type { AlarmChange } from "../../src/alarms/change.ts";
import { PRIORITIES } from "../../src/alarms/words.ts";
import { MILLISECOND } from "../../src/ground/time.ts";
import { Delivery } from "../../src/outputs/phones/delivery.ts";
import { PostWay } from "../../src/outputs/phones/post-way.ts";
import { openStore } from "../../src/store/worker-store.ts";

/**
 * A program that tells one person what the state folder says she was not told, and prints a line for
 * each message that is settled. Arguments: folder, address, and the tags of alarms to raise first.
 */
const [folder, address, ...tags] = Deno.args;
const encoder = new TextEncoder();
const store = await openStore(folder);
const wall = () => Date.now() * MILLISECOND;

const delivery = await Delivery.open({
  store,
  person: "ellen",
  wants: PRIORITIES,
  boat: "Hazel Comfort",
  way: new PostWay({ name: "post", address, wall }),
  words: ({ tag }) => tag,
  wall,
  random: () => 0,
  wait: (length) => new Promise((resolve) => setTimeout(resolve, length / MILLISECOND)),
  onProgress: ({ number, state }) => {
    if (state === "accepted") Deno.stdout.writeSync(encoder.encode(`accepted ${number}\n`));
  },
});

await store.commit({ changes: tags.map(raised) }).saved;
Deno.stdout.writeSync(encoder.encode("saved\n"));
delivery.wake();

// Until somebody closes standard input.
for await (const _ of Deno.stdin.readable) { /* nothing is said there */ }
await delivery.stop();
await store.close();

function raised(tag: string): AlarmChange {
  return {
    tag,
    subject: "aft",
    occurrence: 1,
    from: "normal",
    to: "unacknowledged",
    hold: "none",
    priority: "emergency-alarm",
    signal: "bilge/aft/float",
    value: 1,
    unit: "1",
    setpoint: null,
    time: wall(),
    why: "Aft float was on for 5 s.",
    by: "",
  };
}
