import fc from "fast-check";
import { FrameFlag } from "../../src/bus/frame-batch.ts";
import type { Frame } from "./frames.ts";

/** Any frame that a classic bus can carry or an adapter report. */
export const anyFrame: fc.Arbitrary<Frame> = fc.record({
  time: fc.integer({ min: 0, max: 4_294_967_295 * 1_000_000 + 999_999 }),
  bus: fc.constantFrom("can0", "can1", "vcan10", "slcan0"),
  kind: fc.constantFrom("extended", "standard", "remote", "short-remote", "error"),
  identifier: fc.integer({ min: 0, max: 0x1fffffff }),
  data: fc.array(fc.integer({ min: 0, max: 255 }), { maxLength: 8 }),
}).map(({ time, bus, kind, identifier, data }) => {
  const short = kind === "standard" || kind === "short-remote";
  const remote = kind === "remote" || kind === "short-remote";
  const flags = kind === "error"
    ? FrameFlag.error
    : (short ? 0 : FrameFlag.extended) | (remote ? FrameFlag.remote : 0);
  return {
    time,
    bus,
    flags,
    identifier: short ? identifier & 0x7ff : identifier,
    length: data.length,
    data: remote ? [] : data,
  };
});
