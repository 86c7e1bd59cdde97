import { expect, test } from "vitest";
import { fullBusLines } from "../support/full-bus-lines.ts";
import type { Cost } from "../support/listen-and-decode.ts";
import { ROOT } from "../support/sternfast.ts";

const FRAMES = 38_000;
/** They come at once, so that the program is compiled for speed as it is on the second day aboard. */
const WARMING = 20_000;
/** By then, a second later, it has caught up with them. */
const WARM = 22_000;
const STAMP = /^\((\d+\.\d+)\)/;

/** Sends lines at their own pace, once warm, as a gateway on the boat's network does. */
async function serve(listener: Deno.Listener, lines: readonly string[]): Promise<void> {
  const connection = await listener.accept();
  const writer = connection.writable.getWriter();
  const times = lines.map((line) => Number(STAMP.exec(line)?.[1]) * 1_000);
  const begun = performance.now();
  const encoder = new TextEncoder();
  for (let at = 0; at < lines.length;) {
    const reached = times[WARMING] + performance.now() - begun;
    let to = at;
    while (to < lines.length && times[to] <= reached) to++;
    if (to > at) await writer.write(encoder.encode(lines.slice(at, to).join("")));
    at = to;
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
  for await (const _ of connection.readable);
}

test("a full bus over the network is received and decoded without a loss", async () => {
  const lines = fullBusLines(FRAMES).trimEnd().split("\n").map((line) => `${line}\n`);
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  const { port } = listener.addr as Deno.NetAddr;
  const served = serve(listener, lines);
  const { stdout, success } = await new Deno.Command(Deno.execPath(), {
    args: [
      "run",
      "-A",
      `${ROOT}/tests/support/listen-and-decode.ts`,
      `tcp:127.0.0.1:${port}`,
      String(lines.length),
      String(WARM),
    ],
    stderr: "null",
  }).output();
  await served;
  listener.close();
  expect(success).toBe(true);
  const cost: Cost = JSON.parse(new TextDecoder().decode(stdout));
  expect(cost).toMatchObject({ frames: lines.length, dropped: 0 });
  const share = cost.busySeconds / cost.seconds * 100;
  const note = `A full bus over TCP: ${Math.round(cost.rate)} frames/s, ` +
    `${share.toFixed(1)} % of a processor, receiving and decoding.\n`;
  Deno.stderr.writeSync(new TextEncoder().encode(note));
});
