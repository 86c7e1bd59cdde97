import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { type KeptKey, keptKey } from "./kept-key.ts";

let state: string;
beforeEach(() => state = Deno.makeTempDirSync({ prefix: "sternfast-" }));
afterEach(() => Deno.removeSync(state, { recursive: true }));

const key: KeptKey = {
  file: "some-key",
  bytes: 4,
  make: () => crypto.getRandomValues(new Uint8Array(4)),
  words: "The key of this test",
  lost: "the test begins anew",
};

test("a key is made once, and only its owner can read it", async () => {
  const made = await keptKey(state, key);
  expect(await keptKey(state, key)).toEqual(made);
  expect((Deno.statSync(join(state, "some-key")).mode ?? 0) & 0o777).toBe(0o600);
  expect([...Deno.readDirSync(state)]).toHaveLength(1);
});

test("without a folder it is another each time", async () => {
  expect(await keptKey(undefined, key)).not.toEqual(await keptKey(undefined, key));
});

test("half a key is not taken for one, and what to do is said without it", async () => {
  Deno.writeFileSync(join(state, "some-key"), new Uint8Array([1, 2]));
  await expect(keptKey(state, key)).rejects.toThrow(
    "has 2 bytes and should have 4. Delete it; a new one is made, and the test begins anew.",
  );
});

test("a folder that is not there is said", async () => {
  await expect(keptKey(join(state, "gone"), key)).rejects.toThrow(
    /^The key of this test, .*some-key, cannot be used:/,
  );
});
