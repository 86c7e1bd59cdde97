import { afterEach, beforeEach, expect, test } from "vitest";

/** What a phone's service saw, and a say in what it answers. */
let seen: { key: string; text: string }[];
let onRequest: () => Response | Promise<Response>;
let server: Deno.HttpServer<Deno.NetAddr>;
let folder: string;

beforeEach(() => {
  folder = Deno.makeTempDirSync({ prefix: "sternfast-told-" });
  seen = [];
  server = Deno.serve({ hostname: "127.0.0.1", port: 0, onListen: () => {} }, async (request) => {
    const key = request.headers.get("Idempotency-Key") ?? "";
    const { text } = await request.json();
    seen.push({ key, text: /ALARM: (\S+)/.exec(text)?.[1] ?? text });
    return onRequest();
  });
});
afterEach(async () => {
  await server.shutdown();
  Deno.removeSync(folder, { recursive: true });
});

test("a kill between acceptance and record repeats the message, with the same key only", async () => {
  const killed = start("float-on");
  onRequest = () => {
    // The service has taken the message; the program dies before it can know.
    killed.kill("SIGKILL");
    return new Response("accepted");
  };
  await killed.status;
  await killed.stdout.cancel();
  await killed.stdin.abort();
  expect(seen.map(({ text }) => text)).toEqual(["float-on"]);

  onRequest = () => new Response("accepted");
  await runUntil("accepted float-on");
  expect(seen.map(({ text }) => text)).toEqual(["float-on", "float-on"]);
  expect(seen[1].key).toBe(seen[0].key);

  // The third start has nothing old to tell: only what is new goes out.
  await runUntil("accepted pump-runs-long", "pump-runs-long");
  expect(seen.map(({ text }) => text)).toEqual(["float-on", "float-on", "pump-runs-long"]);
  expect(seen[2].key).not.toBe(seen[0].key);
});

test("a service that fails at first is told in the end, once each", async () => {
  let failures = 2;
  onRequest = () => new Response("", { status: failures-- > 0 ? 503 : 202 });
  await runUntil("accepted first", "first");
  expect(seen.map(({ text }) => text)).toEqual(["first", "first", "first"]);
  expect(new Set(seen.map(({ key }) => key)).size).toBe(1);
});

function start(...tags: string[]): Deno.ChildProcess {
  return new Deno.Command(Deno.execPath(), {
    args: [
      "run",
      "--allow-net",
      "--allow-read",
      "--allow-write",
      "--allow-env",
      "--v8-flags=--disallow-code-generation-from-strings",
      "tests/support/phone-teller.ts",
      ...[folder, `http://127.0.0.1:${server.addr.port}/`, ...tags],
    ],
    stdin: "piped",
    stdout: "piped",
    stderr: "inherit",
  }).spawn();
}

/** Runs the program until it prints a line, then lets it stop cleanly. */
async function runUntil(line: string, ...tags: string[]): Promise<void> {
  const program = start(...tags);
  let text = "";
  let seenLine = false;
  for await (const part of program.stdout.pipeThrough(new TextDecoderStream())) {
    text += part;
    if (seenLine || !text.split("\n").includes(line)) continue;
    seenLine = true;
    await program.stdin.close();
  }
  const { code } = await program.status;
  expect(code).toBe(0);
}
