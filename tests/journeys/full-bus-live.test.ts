import { expect, onTestFinished, test, vi } from "vitest";
import { fullBus } from "../bench/full-bus.ts";
import { DatagramSender } from "../support/datagram-bus.ts";
import { fullBusLines } from "../support/full-bus-lines.ts";
import type { Cost } from "../support/listen-and-decode.ts";
import { ROOT } from "../support/sternfast.ts";

const FRAMES = 38_000;
/** They come at once, so that the program is compiled for speed as it is on the second day aboard. */
const WARMING = 20_000;
/** By then, a second later, it has caught up with them. */
const WARM = 22_000;
const STAMP = /^\((\d+\.\d+)\)/;

/** Gives frames at their own pace, once warm: `send` those from one number to another. */
async function paced(
  times: readonly number[],
  send: (from: number, to: number) => Promise<unknown> | void,
): Promise<void> {
  const begun = performance.now();
  for (let at = 0; at < times.length;) {
    const reached = times[WARMING] + performance.now() - begun;
    let to = at;
    while (to < times.length && times[to] <= reached) to++;
    if (to > at) await send(at, to);
    at = to;
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
}

/** Receives and decodes in a process of its own; says what it cost. */
async function listen(input: string): Promise<Cost> {
  const listener = `${ROOT}/tests/support/listen-and-decode.ts`;
  const { stdout, stderr, success } = await new Deno.Command(Deno.execPath(), {
    args: ["run", "-A", listener, input, String(FRAMES), String(WARM)],
  }).output();
  expect(success, new TextDecoder().decode(stderr)).toBe(true);
  return JSON.parse(new TextDecoder().decode(stdout));
}

function note(bus: string, { rate, busySeconds, seconds, batch }: Cost): void {
  const share = busySeconds / seconds * 100;
  const text = `A full bus ${bus}: ${Math.round(rate)} frames/s, ${batch.toFixed(0)} at a time, ` +
    `${share.toFixed(1)} % of a processor, receiving and decoding.\n`;
  Deno.stderr.writeSync(new TextEncoder().encode(text));
}

test("a full bus over the network is received and decoded without a loss", async () => {
  const lines = fullBusLines(FRAMES).trimEnd().split("\n").map((line) => `${line}\n`);
  expect(lines.length).toBe(FRAMES);
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  const { port } = listener.addr as Deno.NetAddr;
  const served = (async () => {
    const connection = await listener.accept();
    const writer = connection.writable.getWriter();
    const encoder = new TextEncoder();
    const times = lines.map((line) => Number(STAMP.exec(line)?.[1]) * 1_000);
    await paced(times, (from, to) => writer.write(encoder.encode(lines.slice(from, to).join(""))));
    for await (const _ of connection.readable);
  })();
  const cost = await listen(`tcp:127.0.0.1:${port}`);
  await served;
  listener.close();
  expect(cost).toMatchObject({ frames: FRAMES, dropped: 0 });
  note("over TCP", cost);
});

/** The kernel's own bus is in the virtual machine, whose processor is emulated: here is a real one. */
test("SocketCAN's loop takes a full bus some twenty frames at a time, without a loss", async () => {
  const folder = await Deno.makeTempDir();
  onTestFinished(() => Deno.remove(folder, { recursive: true }));
  const { batches } = fullBus(FRAMES);
  const frames = batches.flatMap((batch) =>
    Array.from({ length: batch.count }, (_, index) => ({ batch, index }))
  );
  const listening = listen(`datagrams:${folder}/bus`);
  const sender = new DatagramSender();
  await vi.waitFor(() => expect(sender.connect(`${folder}/bus`)).toBe(true), 60_000);
  const times = frames.map(({ batch, index }) => batch.times[index] / 1_000);
  await paced(times, (from, to) => {
    for (const { batch, index } of frames.slice(from, to)) sender.send(batch, index);
  });
  const cost = await listening;
  sender.close();
  expect(cost).toMatchObject({ frames: FRAMES, dropped: 0 });
  // A wake for each frame costs four times as much.
  expect(cost.batch).toBeGreaterThan(10);
  note("by SocketCAN's loop", cost);
});
