import { afterEach, beforeEach, expect, test } from "vitest";
import { openStore } from "../../src/store/worker-store.ts";

let folder: string;

beforeEach(() => folder = Deno.makeTempDirSync({ prefix: "sternfast-kill-" }));
afterEach(() => Deno.removeSync(folder, { recursive: true }));

test("kill -9 at any moment loses nothing that was saved", async () => {
  let savedBefore = 0;
  for (const lines of [1, 7, 40, 150]) {
    const told = await writeUntilKilled(lines);
    const store = await openStore(folder);
    const events = await store.eventsAfter(0, 100_000);
    const numbers = events.map(({ number }) => number);
    // Without a gap, nothing told is missing, and a turn is there whole or not at all.
    expect(numbers).toEqual(numbers.map((_, index) => index + 1));
    expect(numbers.length).toBeGreaterThanOrEqual(told);
    expect(told).toBeGreaterThanOrEqual(savedBefore + lines);
    expect((await store.documents("alarm-memory")).get("bilge-high-water/aft"))
      .toBe(String(numbers.length));
    savedBefore = numbers.length;
    await store.close();
  }
});

/** Runs the writer, kills it after so many lines, and returns the last number that it told. */
async function writeUntilKilled(lines: number): Promise<number> {
  // The permissions that the program itself has.
  const child = new Deno.Command(Deno.execPath(), {
    args: [
      "run",
      "--allow-read",
      "--allow-write",
      "--allow-env",
      "--v8-flags=--disallow-code-generation-from-strings",
      "tests/support/store-writer.ts",
      folder,
    ],
    stdout: "piped",
    stderr: "inherit",
  }).spawn();
  let text = "";
  let killed = false;
  for await (const part of child.stdout.pipeThrough(new TextDecoderStream())) {
    text += part;
    if (!killed && text.split("\n").length > lines) {
      child.kill("SIGKILL");
      killed = true;
    }
  }
  await child.status;
  return Number(text.split("\n").at(-2));
}
