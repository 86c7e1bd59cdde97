import { describe, expect, test } from "vitest";
import { SECOND } from "../ground/time.ts";
import type { SourceEvent } from "./source-event.ts";
import { sayEvent } from "./source-event-words.ts";

describe("what befalls a live source, in words", () => {
  test.each<[SourceEvent, string]>([
    [
      { kind: "refused", reason: "there is no network interface can0", retryIn: SECOND },
      "can0: there is no network interface can0. It is tried again until it is there.",
    ],
    [
      { kind: "lost", reason: "there is no such device", retryIn: SECOND },
      "can0: lost, there is no such device. It is tried again until it is back.",
    ],
    [
      { kind: "dropped", count: 1 },
      "can0: 1 frame was lost before we could read it; this computer was too busy.",
    ],
    [
      { kind: "dropped", count: 1200 },
      "can0: 1,200 frames were lost before we could read them; this computer was too busy.",
    ],
    [
      { kind: "malformed", count: 1000, found: "$GPGGA", expected: "a frame" },
      "can0: 1,000 lines that came are no frames, such as $GPGGA; expected a frame.",
    ],
    [
      { kind: "overflow" },
      "can0: the adapter's own buffer ran over and frames were lost; it, its line or this " +
      "computer is too slow for this bus. It is said once, and counted on.",
    ],
    [
      { kind: "small-buffer", frames: 277 },
      "can0: the system keeps 277 frames only while this computer is busy, which a full bus sends " +
      "in 0.15 s; sysctl -w net.core.rmem_max=16777216 makes room for more.",
    ],
    [
      { kind: "clock-step", by: -2.5 * SECOND },
      "can0: this computer's clock was set back by 2.5 s.",
    ],
    [
      { kind: "interface-down", interface: "can1" },
      'can0: the interface is switched off, so nothing can be heard; "ip link set can1 up" ' +
      "switches it on.",
    ],
    [
      { kind: "controller", state: "bus-off" },
      "can0: the adapter met too many errors and has left the bus; look at the bit rate, the " +
      "connectors and the terminators, then switch the interface off and on, or " +
      "plug the adapter in anew.",
    ],
  ])("%o", (event, sentence) => {
    expect(sayEvent("can0", event)).toBe(sentence);
  });
});
