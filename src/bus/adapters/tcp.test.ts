import fc from "fast-check";
import { afterEach, describe, expect, test, vi } from "vitest";
import { anyFrame } from "../../../tests/support/any-frame.ts";
import { batchOf, type Frame, framesIn, readAll } from "../../../tests/support/frames.ts";
import { holdsAsFrameSource } from "../../../tests/support/holds-as-frame-source.ts";
import { VirtualTime } from "../../../tests/support/virtual-time.ts";
import { MILLISECOND, SECOND } from "../../ground/time.ts";
import { BusNames } from "../bus-names.ts";
import { CandumpWriter } from "../recordings/candump-writer.ts";
import type { SourceEvent } from "../source-event.ts";
import { openTcp, type TcpOptions } from "./tcp.ts";
import { ANSWER_WITHIN, QUIET_AFTER } from "./tcp-connection.ts";

const FRAMES = fc.sample(anyFrame, { seed: 28700, numRuns: 50 });

function linesOf(frames: readonly Frame[]): Uint8Array {
  const buses = new BusNames();
  return new CandumpWriter(buses).lines(batchOf(frames, buses)).slice();
}

const listeners: Deno.Listener[] = [];
afterEach(() => {
  for (const listener of listeners.splice(0)) listener.close();
});

/** A server that treats its first caller as the first of these says, and so on; the last again. */
function serve(...treatments: ((connection: Deno.Conn) => Promise<void>)[]): number {
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  listeners.push(listener);
  (async () => {
    let caller = 0;
    for await (const connection of listener) {
      await treatments[Math.min(caller++, treatments.length - 1)](connection).catch(() => {});
    }
  })().catch(() => {});
  return (listener.addr as Deno.NetAddr).port;
}

/** Sends bytes and hangs up. */
const sends = (bytes: Uint8Array) => async (connection: Deno.Conn) => {
  const writer = connection.writable.getWriter();
  await writer.write(bytes);
  await writer.close();
};

/** Sends bytes and stays on the line until the caller leaves. */
const holdsAfter = (bytes: Uint8Array) => async (connection: Deno.Conn) => {
  const writer = connection.writable.getWriter();
  await writer.write(bytes);
  for await (const _ of connection.readable);
};

/** Time that stands still: no wait of seconds ends, shorter ones cost nothing. */
const STANDSTILL = {
  clock: { steady: () => 0, wall: () => 0 },
  delay: (attempt: number) => attempt * SECOND,
  sleep: (length: number, signal: AbortSignal) =>
    length < ANSWER_WITHIN ? Promise.resolve() : aborted(signal),
};

function aborted(signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => signal.addEventListener("abort", () => resolve()));
}

function open(port: number, buses: BusNames, more: Partial<TcpOptions> = {}) {
  return openTcp({ host: "127.0.0.1", port, buses, ...STANDSTILL, ...more });
}

holdsAsFrameSource("candump lines over TCP", {
  frames: FRAMES,
  endless: true,
  open: (buses, batchSize) => open(serve(holdsAfter(linesOf(FRAMES))), buses, { batchSize }),
});

describe("a TCP connection", () => {
  const cutLine = linesOf(FRAMES).subarray(0, -5);

  test("that is lost is made again, and what was cut off is counted", async () => {
    const buses = new BusNames();
    const events: SourceEvent[] = [];
    const port = serve(sends(cutLine), holdsAfter(linesOf(FRAMES)));
    const source = open(port, buses, { told: (event) => events.push(event) });
    const { frames } = await readAll(source, buses, 2 * FRAMES.length - 1);
    expect(frames).toEqual([...FRAMES.slice(0, -1), ...FRAMES]);
    expect(source.counts.malformed).toBe(1);
    expect(source.problems[0].found).toContain(" (connection");
    expect(events).toEqual([
      { kind: "connected" },
      { kind: "lost", reason: "the other side closed the connection", retryIn: SECOND },
      { kind: "connected" },
    ]);
  });

  test("that gives nothing is tried again with longer and longer pauses", async () => {
    const buses = new BusNames();
    const pauses: number[] = [];
    const nothing = sends(new Uint8Array(0));
    const port = serve(nothing, nothing, nothing, holdsAfter(linesOf(FRAMES)));
    const source = open(port, buses, {
      sleep: (length, signal) => {
        if (length >= SECOND && length < ANSWER_WITHIN) pauses.push(length);
        return STANDSTILL.sleep(length, signal);
      },
    });
    await readAll(source, buses, FRAMES.length);
    expect(pauses).toEqual([SECOND, 2 * SECOND, 3 * SECOND]);
  });

  test("that is refused is told of, and the source can be stopped while it waits", async () => {
    const port = serve(sends(cutLine));
    for (const listener of listeners.splice(0)) listener.close();
    const events: SourceEvent[] = [];
    const buses = new BusNames();
    const source = open(port, buses, {
      told: (event) => {
        events.push(event);
        queueMicrotask(() => source.stop());
      },
      sleep: (_length, signal) => aborted(signal),
    });
    expect((await readAll(source, buses)).frames).toEqual([]);
    expect(events).toHaveLength(1);
    expect(events[0]).toMatchObject({ kind: "refused", retryIn: SECOND });
  });

  test("can be stopped while nothing comes", async () => {
    const buses = new BusNames();
    const source = open(serve(holdsAfter(linesOf(FRAMES))), buses);
    const frames: Frame[] = [];
    for await (const batch of source.batches()) {
      frames.push(...framesIn(batch, buses));
      if (frames.length === FRAMES.length) queueMicrotask(() => source.stop());
    }
    expect(frames).toEqual(FRAMES);
  });
});

describe("a gateway that says nothing any more", () => {
  /** Follows a source by a time that passes only here. */
  function follow(port: number) {
    const time = new VirtualTime(0);
    const buses = new BusNames();
    const events: SourceEvent[] = [];
    const source = open(port, buses, {
      clock: time,
      sleep: time.wait,
      told: (event) => events.push(event),
    });
    const frames: Frame[] = [];
    const ended = (async () => {
      for await (const batch of source.batches()) frames.push(...framesIn(batch, buses));
    })();
    const until = (isSo: () => boolean) =>
      vi.waitUntil(async () => {
        await time.pass(20 * MILLISECOND);
        return isSo();
      });
    const stop = async () => {
      source.stop();
      await ended;
    };
    return { events, frames, source, stop, time, until };
  }

  test("is called anew after a minute, and nobody is told while it answers", async () => {
    const port = serve(holdsAfter(linesOf(FRAMES)));
    const { events, frames, source, stop, time, until } = follow(port);
    for (const times of [1, 2, 3]) {
      await until(() => frames.length === times * FRAMES.length);
      await time.pass(QUIET_AFTER);
    }
    await stop();
    expect(events).toEqual([{ kind: "connected" }]);
    expect(source.counts.malformed).toBe(0);
  });

  test("is left alone for less than a minute", async () => {
    const port = serve(holdsAfter(linesOf(FRAMES)));
    const { frames, stop, time, until } = follow(port);
    await until(() => frames.length === FRAMES.length);
    await time.pass(QUIET_AFTER - 10 * SECOND);
    await stop();
    expect(frames).toHaveLength(FRAMES.length);
  });

  test("is told as lost once it does not answer, and is called until it does", async () => {
    const port = serve(holdsAfter(linesOf(FRAMES)));
    const { events, frames, stop, time, until } = follow(port);
    await until(() => frames.length === FRAMES.length);
    for (const listener of listeners.splice(0)) listener.close();
    await time.pass(QUIET_AFTER);
    await until(() => events.length === 2);
    expect(events[1]).toMatchObject({ kind: "lost", reason: "nothing listens at that port" });
    await stop();
  });

  test("is given up when it does not even refuse", async () => {
    // A server that accepts nobody: once its queue is full the system answers nobody.
    const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
    listeners.push(listener);
    const { port } = listener.addr as Deno.NetAddr;
    const leaving = new AbortController();
    const queue = Array.from(
      { length: 600 },
      () => Deno.connect({ hostname: "127.0.0.1", port, signal: leaving.signal }).catch(() => {}),
    );
    const { events, stop, time, until } = follow(port);
    await time.pass(ANSWER_WITHIN);
    await until(() => events.length === 1);
    expect(events[0]).toMatchObject({ kind: "refused", reason: "nobody answers there" });
    await stop();
    leaving.abort();
    for (const caller of await Promise.all(queue)) caller?.close();
  });
});
