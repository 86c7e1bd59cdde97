import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { start, sternfast } from "../support/sternfast.ts";

const TRIP = { "trip.log": new SpokenRecording().engine(0, 5, { speed: 700 }).text };

/** A port of loopback that is taken for as long as `use` runs. */
async function withPortTaken<T>(use: (port: number) => Promise<T>): Promise<T> {
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  try {
    return await use(listener.addr.port);
  } finally {
    listener.close();
  }
}

test("a page whose port is in use is said, and nothing is begun", async () => {
  const folder = ownFolder(TRIP);
  await withPortTaken(async (port) => {
    const typed = ["run", "trip.log", "--page", `127.0.0.1:${port}`];
    const { code, error } = await sternfast(typed, { folder });
    expect(error).toContain(`another program already uses 127.0.0.1:${port}. Stop that program`);
    expect(code).toBe(2);
  });
});

test("a page that others could reach is refused without a passphrase", async () => {
  const folder = ownFolder(TRIP);
  const { code, error } = await sternfast(["run", "trip.log", "--page", "0.0.0.0:0"], { folder });
  expect(error).toContain("so it needs a passphrase");
  expect(code).toBe(2);
});

test("the demo takes another port where its usual one is in use", async () => {
  let usual: Deno.Listener | undefined;
  try {
    usual = Deno.listen({ hostname: "127.0.0.1", port: 8250 });
  } catch { /* then it is in use already */ }
  const running = await start(["demo"]);
  const text = await running.until(/The page is at \S+/);
  expect(text).not.toContain("http://127.0.0.1:8250/");
  running.interrupt();
  expect((await running.finished()).code).toBe(130);
  usual?.close();
});

test("a state folder that cannot be written is said, with its reason", async () => {
  const folder = ownFolder({ ...TRIP, "taken": "a file where the folder should be" });
  const { code, error } = await sternfast(["run", "trip.log", "--state", "taken/state"], {
    folder,
  });
  expect(error).toMatch(
    /The state folder ".*taken\/state" cannot be written \(.+\)\. .+--state\.\n$/,
  );
  expect(code).toBe(2);
});

test("a state folder that another Sternfast uses is left to it", async () => {
  const folder = ownFolder();
  const first = await start(["run", "-", "--state", "state"], { folder, input: "piped" });
  await first.until(/nothing is judged/);
  const second = await sternfast(["run", "-", "--state", "state"], { folder, input: "" });
  expect(second.error).toContain("is in use by another Sternfast");
  expect(second.code).toBe(2);
  first.interrupt();
  expect((await first.finished()).code).toBe(130);
});
