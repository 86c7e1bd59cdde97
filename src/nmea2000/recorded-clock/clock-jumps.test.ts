import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { BusNames } from "../../bus/bus-names.ts";
import { FrameFlag } from "../../bus/frame-batch.ts";
import { type Micros, MILLISECOND, MINUTE, SECOND } from "../../ground/time.ts";
import { batchOf, type Frame, framesIn } from "../../../tests/support/frames.ts";
import { ADDRESS_CLAIM } from "../devices.ts";
import { ClockJumps } from "./clock-jumps.ts";

const BEGINS = 1_780_000_000 * SECOND;
const JUMPS_AFTER = 7 * SECOND;
const LASTS = 12 * SECOND;

interface Sender {
  readonly address: number;
  /** Period and beginning of each of its messages. */
  readonly messages: readonly { readonly every: Micros; readonly from: Micros }[];
}

/** Four to ten devices, each with a slow message and one to three quick ones. */
const someSenders: fc.Arbitrary<Sender[]> = fc.array(
  fc.record({
    slow: fc.record({
      every: fc.constantFrom(500, 1000, 1500),
      from: fc.integer({ min: 0, max: 1499 }),
    }),
    quick: fc.array(
      fc.record({ every: fc.constantFrom(100, 250), from: fc.integer({ min: 0, max: 249 }) }),
      { minLength: 1, maxLength: 3 },
    ),
  }),
  { minLength: 4, maxLength: 10 },
).map((drawn) =>
  drawn.map(({ slow, quick }, address) => ({
    address,
    messages: [slow, ...quick].map(({ every, from }) => ({
      every: every * MILLISECOND,
      from: from * MILLISECOND,
    })),
  }))
);

/** What they say from one time on and before another, each stamp late by up to a millisecond. */
function said(senders: readonly Sender[], from: Micros, to: Micros): Frame[] {
  const frames: Frame[] = [];
  for (const { address, messages } of senders) {
    for (const [number, message] of messages.entries()) {
      let count = Math.max(0, Math.ceil((from - message.from) / message.every));
      for (;; count++) {
        const time = message.from + count * message.every;
        if (time >= to) break;
        frames.push(frameOf(time + (count * 379) % MILLISECOND, 0xff00 + number, address));
      }
    }
  }
  return frames.sort((a, b) => a.time - b.time);
}

function frameOf(time: Micros, pgn: number, address: number): Frame {
  const identifier = (6 << 26 | pgn << 8 | address) >>> 0;
  const data = [address, 1, 2, 3, 4, 5, 6, 7];
  return {
    time: BEGINS + time,
    bus: "can0",
    flags: FrameFlag.extended,
    identifier,
    length: 8,
    data,
  };
}

function later(frames: readonly Frame[], by: Micros): Frame[] {
  return frames.map((frame) => ({ ...frame, time: frame.time + by }));
}

function text({ time, bus, identifier, length, data }: Frame): string {
  return `${time} ${bus} ${identifier} ${length} ${data}`;
}

/** Follows frames in batches of the sizes that are given, again and again. */
function follow(frames: readonly Frame[], sizes: readonly number[] = [frames.length]) {
  const buses = new BusNames();
  const jumps = new ClockJumps();
  const out: string[] = [];
  const steps: { readonly before: number; readonly by: Micros }[] = [];
  const take = (settled: ReturnType<ClockJumps["end"]>) => {
    for (const batch of settled) {
      if (batch.clockStep !== 0) steps.push({ before: out.length, by: batch.clockStep });
      out.push(...framesIn(batch, buses).map(text));
    }
  };
  for (let from = 0, turn = 0; from < frames.length; turn++) {
    const size = sizes[turn % sizes.length];
    take(jumps.take(batchOf(frames.slice(from, from + size), buses)));
    from += size;
  }
  take(jumps.end());
  return { out, steps, count: jumps.count, by: jumps.by };
}

const someJump = fc.integer({ min: 3 * SECOND, max: 600 * MINUTE });
const someSizes = fc.array(fc.integer({ min: 1, max: 300 }), { minLength: 1, maxLength: 5 });

describe("a jump of the stamps in a recording", () => {
  test("is a step of the clock where every device goes on at its own beat", () => {
    fc.assert(
      fc.property(someSenders, someJump, someSizes, (senders, by, sizes) => {
        const before = said(senders, 0, JUMPS_AFTER);
        const after = later(said(senders, JUMPS_AFTER, LASTS), by);
        const whole = follow([...before, ...after]);
        expect(whole.count).toBe(1);
        expect(Math.abs(whole.by - by)).toBeLessThan(SECOND);
        expect(whole.steps).toEqual([{ before: before.length, by: whole.by }]);
        expect(whole.out).toEqual([...before, ...after].map(text));
        expect(follow([...before, ...after], sizes)).toEqual(whole);
      }),
      { numRuns: 30 },
    );
  });

  test("is a gap where devices claim their addresses afterwards, as after a power-up", () => {
    fc.assert(
      fc.property(someSenders, someJump, (senders, by) => {
        const claims = senders.map(({ address }) =>
          frameOf(JUMPS_AFTER + address * MILLISECOND, ADDRESS_CLAIM | 0xff, address)
        );
        const after = [...claims, ...said(senders, JUMPS_AFTER + 300 * MILLISECOND, LASTS)];
        const frames = [...said(senders, 0, JUMPS_AFTER), ...later(after, by)];
        expect(follow(frames)).toMatchObject({ count: 0, steps: [], out: frames.map(text) });
      }),
      { numRuns: 30 },
    );
  });

  test("is a gap where devices begin anew, at another beat", () => {
    fc.assert(
      fc.property(someSenders, someJump, (senders, by) => {
        // Each by another share of its period.
        const anew = senders.map(({ address, messages }) => ({
          address,
          messages: messages.map(({ every, from }) => ({ every, from: from + every * 0.4 })),
        }));
        const after = later(said(anew, JUMPS_AFTER, LASTS), by);
        expect(follow([...said(senders, 0, JUMPS_AFTER), ...after]).count).toBe(0);
      }),
      { numRuns: 30 },
    );
  });

  test("is a gap where devices stay away", () => {
    fc.assert(
      fc.property(someSenders, someJump, (senders, by) => {
        const after = later(said(senders.slice(senders.length / 2), JUMPS_AFTER, LASTS), by);
        expect(follow([...said(senders, 0, JUMPS_AFTER), ...after]).count).toBe(0);
      }),
      { numRuns: 30 },
    );
  });

  test("is a gap where so little is said that chance could do it", () => {
    const senders = [{ address: 3, messages: [{ every: SECOND, from: 0 }] }];
    const after = later(said(senders, JUMPS_AFTER, LASTS), MINUTE);
    expect(follow([...said(senders, 0, JUMPS_AFTER), ...after]).count).toBe(0);
  });

  test("is a gap where the recording ends before anything can be told", () => {
    const senders = [0, 1, 2].map((address) => ({
      address,
      messages: [{ every: SECOND, from: address * 300 * MILLISECOND }],
    }));
    const after = later(said(senders, JUMPS_AFTER, JUMPS_AFTER + 200 * MILLISECOND), MINUTE);
    const frames = [...said(senders, 0, JUMPS_AFTER), ...after];
    expect(follow(frames)).toMatchObject({ count: 0, out: frames.map(text) });
  });

  test("is no matter below two seconds, nor where the clock is set back", () => {
    const senders = [{ address: 3, messages: [{ every: 100 * MILLISECOND, from: 0 }] }];
    for (const by of [SECOND, -MINUTE]) {
      const after = later(said(senders, JUMPS_AFTER, LASTS), by);
      const frames = [...said(senders, 0, JUMPS_AFTER), ...after];
      expect(follow(frames, [7])).toMatchObject({ count: 0, out: frames.map(text) });
    }
  });

  test("is found again and again, also where the clock was set back between", () => {
    const senders = [1, 2, 3, 4].map((address) => ({
      address,
      messages: [100, 500, 1000].map((every) => ({
        every: every * MILLISECOND,
        from: address * 23 * MILLISECOND,
      })),
    }), { numRuns: 30 });
    const frames = [
      ...said(senders, 0, JUMPS_AFTER),
      ...later(said(senders, JUMPS_AFTER, LASTS), MINUTE),
      ...said(senders, LASTS, LASTS + JUMPS_AFTER),
      ...later(said(senders, LASTS + JUMPS_AFTER, 2 * LASTS), MINUTE),
    ];
    expect(follow(frames, [11]).count).toBe(2);
  });
});
