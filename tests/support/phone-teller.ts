import { PRIORITIES } from "../../src/alarms/words.ts";
import { MILLISECOND } from "../../src/ground/time.ts";
import { Phones } from "../../src/outputs/phones/phones.ts";
import { PostWay } from "../../src/outputs/phones/ways/post-way.ts";
import { openStore } from "../../src/store/worker-store.ts";
import { highWater } from "./high-water.ts";

/**
 * A program that tells one person what the state folder says she was not told, and prints a line for
 * each message that is accepted. Arguments: folder, address, and the tags of emergencies to raise.
 */
const [folder, address, ...tags] = Deno.args;
const encoder = new TextEncoder();
const store = await openStore(folder);
const wall = () => Date.now() * MILLISECOND;
const print = (line: string) => Deno.stdout.writeSync(encoder.encode(`${line}\n`));

const phones = await Phones.open({
  people: [{
    name: "ellen",
    wants: PRIORITIES,
    ways: [new PostWay({ name: "post", address, wall })],
  }],
  store,
  clock: { steady: () => Math.round(performance.now() * MILLISECOND), wall },
  timeZone: "Europe/London",
  boatOf: () => "Hazel Comfort",
  statusOf: () => undefined,
  whereabouts: () => "ashore",
  random: () => 0,
  wait: (length, cut) =>
    new Promise((resolve) => {
      const timer = setTimeout(resolve, length / MILLISECOND);
      cut.addEventListener("abort", () => {
        clearTimeout(timer);
        resolve();
      });
    }),
  onStep: ({ state, text }) => {
    const [tag] = /float-on|pump-runs-long|first|second/.exec(text) ?? [];
    if (state === "accepted") print(`accepted ${tag}`);
  },
  onFault(error) {
    throw error;
  },
});

for (const tag of tags) {
  await store.commit({ changes: [highWater({ tag, time: wall(), why: `${tag} for 5 s.` })] }).saved;
  phones.wake();
}
print("saved");

// Until somebody closes standard input.
for await (const _ of Deno.stdin.readable) { /* nothing is said there */ }
await phones.stop();
await store.close();
