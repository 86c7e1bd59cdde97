import { SECOND } from "../ground/time.ts";
import type { ControllerState, SourceEvent } from "./source-event.ts";

/**
 * The sentence for something that befell a live source. An attempt that fails like the one before
 * it is no news: the caller says what has changed.
 * @param title the source, as the person named it: "socketcan:can0"
 */
export function sayEvent(title: string, event: SourceEvent): string {
  switch (event.kind) {
    case "connected":
      return `${title}: connected.`;
    case "lost":
      return `${title}: lost, ${event.reason}. It is tried again until it is back.`;
    case "refused":
      return `${title}: ${event.reason}. It is tried again until it is there.`;
    case "interface-down":
      return `${title}: the interface is switched off, so nothing can be heard; ` +
        `"ip link set ${event.interface} up" switches it on.`;
    case "interface-up":
      return `${title}: frames come again.`;
    case "controller":
      return `${title}: ${CONTROLLER_WORDS[event.state]}`;
    case "dropped":
      return `${title}: ${sayFrames(event.count)} lost before we could read ` +
        `${event.count === 1 ? "it" : "them"}; this computer was too busy.`;
    case "overflow":
      return `${title}: the adapter's own buffer ran over and frames were lost; it, its line or ` +
        "this computer is too slow for this bus. It is said once, and counted on.";
    case "malformed":
      return `${title}: ${
        event.count.toLocaleString("en")
      } lines that came are no frames, such as ` +
        `${event.found}; expected ${event.expected}.`;
    case "small-buffer":
      return `${title}: the system keeps ${event.frames} frames only while this computer is busy, ` +
        `which a full bus sends in ${(event.frames / FULL_BUS).toFixed(2)} s; ` +
        "sysctl -w net.core.rmem_max=16777216 makes room for more.";
    case "clock-step": {
      const seconds = Math.abs(event.by) / SECOND;
      const way = event.by > 0 ? "forward" : "back";
      return `${title}: this computer's clock was set ${way} by ${seconds.toFixed(1)} s.`;
    }
  }
}

/** Frames a second that a bus of 250 kbit/s carries at most, about. */
const FULL_BUS = 1_800;

const CONTROLLER_WORDS: Readonly<Record<ControllerState, string>> = {
  "error-active": "the adapter works normally again.",
  "error-warning":
    "the adapter meets many errors on the bus; look at its connectors and terminators.",
  "error-passive": "the adapter meets so many errors that it holds back; " +
    "look at the bit rate, the connectors and the terminators.",
  "bus-off": "the adapter met too many errors and has left the bus; " +
    "look at the bit rate, the connectors and the terminators, then switch the interface off and on, " +
    "or plug the adapter in anew.",
};

function sayFrames(count: number): string {
  return count === 1 ? "1 frame was" : `${count.toLocaleString("en")} frames were`;
}
