import { expect, test, vi } from "vitest";
import { DAY, MILLISECOND } from "../../src/ground/time.ts";
import { openStore } from "../../src/store/worker-store.ts";
import { ownFolder } from "../support/own-folder.ts";
import { PhoneService } from "../support/phone-service.ts";
import { ROOT, start } from "../support/sternfast.ts";

const waiting = { timeout: 30_000, interval: 20 };
const [AT_TEN, AT_ELEVEN] = ["0 10 * * *", "0 11 * * *"];

test("a test that was due while nothing ran is made once, and a way that fails is told", async () => {
  const service = new PhoneService();
  const broken = new PhoneService(Array.from({ length: 99 }, () => 404));
  const settings = (hail: string) =>
    [
      "input: simulator:harbour-day",
      `boat: ${ROOT}/examples/hazel-comfort/boat.yaml`,
      "state: state",
      "people:",
      `  - { name: Ellen, reach: [{ post: "${service.url}" }] }`,
      `  - { name: Tom, reach: [{ post: "${broken.url}" }, { post: "${service.url}" }] }`,
      `hail: "${hail}"`,
    ].join("\n");
  const folder = ownFolder({});
  // The last ones were two days ago.
  const store = await openStore(`${folder}/state`);
  const text = String(Date.now() * MILLISECOND - 2 * DAY);
  await store.commit({
    documents: [AT_TEN, AT_ELEVEN].map((at) => ({ kind: "fact", key: `last hail ${at}`, text })),
  }).saved;
  await store.close();

  // What is made in the third run shows that its diary was looked at.
  for (const [hail, most] of [[AT_TEN, 4], [AT_TEN, 4], [AT_ELEVEN, 8]] as const) {
    Deno.writeTextFileSync(`${folder}/sternfast.yaml`, settings(hail));
    const boat = await start(["run", "--page", "127.0.0.1:0"], { folder });
    await boat.until(/The page is at/);
    // Each time a test to both, and word to both of the way that failed.
    await vi.waitUntil(() => service.taken.length >= most, waiting);
    boat.interrupt();
    await boat.finished();
  }
  const texts = service.taken.map(({ message }) => message.text);
  expect(texts.filter((text) => text.includes(": a test, sent at"))).toHaveLength(4);
  expect(texts.filter((text) => text.includes("Tom, post: refused"))).toHaveLength(4);
});
