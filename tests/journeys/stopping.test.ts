import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { shellWords, start } from "../support/sternfast.ts";

const LONG = new SpokenRecording().engine(0, 600, { speed: 700, oil: 40 }).text;

test.each([["SIGINT", 130], ["SIGTERM", 143]] as const)(
  "%s stops a live watch cleanly, with exit code %i",
  async (signal, code) => {
    const running = await start(["run", "-"], { input: "piped" });
    await running.until(/so nothing is judged/);
    running.interrupt(signal);
    const finished = await running.finished();
    expect(finished.code).toBe(code);
    expect(finished.error).toContain("Nothing heard on the bus yet · nothing is judged");
    expect(finished.error).not.toContain("at file:");
  },
);

test("the end of what is piped in is the end of the watch", async () => {
  const running = await start(["run", "-"], { input: "piped" });
  await running.type(LONG.slice(0, LONG.indexOf("\n", 2000) + 1));
  await running.process.stdin.close();
  expect((await running.finished()).code).toBe(0);
});

test("a second interrupt does not wait for what the first one waits for", async () => {
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  // A broker that takes the connection and then says nothing.
  const broker = `mqtt://127.0.0.1:${listener.addr.port}`;
  const running = await start(["run", "-", "--broker", broker], { input: "piped" });
  const connection = await listener.accept();
  await running.until(/Values go to/);
  running.interrupt();
  await running.until(/Nothing heard on the bus yet/);
  running.interrupt("SIGTERM");
  expect((await running.finished()).code).toBe(143);
  connection.close();
  listener.close();
});

test("a reader that goes away, such as head, ends an export well", async () => {
  const folder = ownFolder({ "trip.log": LONG });
  const typed = await shellWords(["export", "trip.log"]);
  const { stdout, stderr } = await new Deno.Command("bash", {
    args: ["-c", `${typed} | head -n 1; echo "\${PIPESTATUS[0]}"`],
    cwd: folder,
    env: { INIT_CWD: folder, NO_COLOR: "1" },
  }).output();
  const lines = new TextDecoder().decode(stdout).split(/\r?\n/);
  expect(lines.slice(0, 2)).toEqual(["time,signal,value,unit,quality", "0"]);
  expect(new TextDecoder().decode(stderr)).toBe("");
});
