import type { Micros } from "../../ground/time.ts";
import { deviceNamed, misframedName, type Scene } from "../scene.ts";

/** Share of the frames that a line without a terminator spoils. */
const HIT = 0.4;

/** What can go wrong with the boxes on the bus, and the line between them. */
export type NetworkFault =
  /** A device stops talking: its plug is out. */
  | { readonly kind: "device-gone"; readonly device: string }
  /** Two devices end up with the same instance: it was never set. */
  | { readonly kind: "instance-not-set"; readonly device: string; readonly instance: number }
  /** A device has to claim another address. */
  | { readonly kind: "address-changes"; readonly device: string; readonly address: number }
  /** Two devices change places. */
  | { readonly kind: "addresses-swapped"; readonly devices: readonly [string, string] }
  /**
   * A terminator is gone: error frames, and frames that never arrive, so that messages have holes.
   * `hit` is the share of the frames, 0.4 when not given.
   */
  | {
    readonly kind: "backbone-fails";
    readonly when: "always" | "radio-transmits";
    readonly hit?: number;
  }
  /** Messages of several frames take their time, so that others come between. */
  | { readonly kind: "frames-interleave" }
  /** A gateway sends a short fast packet as if it were a single frame. */
  | { readonly kind: "misframed"; readonly device: string; readonly pgn: number }
  /** The clock of the computer that stamps the frames is off by so much; for recordings. */
  | { readonly kind: "clock-off"; readonly by: Micros };

export function setNetworkFault(fault: NetworkFault, on: boolean, scene: Scene): void {
  const { backbone } = scene;
  switch (fault.kind) {
    case "device-gone":
      deviceNamed(fault.device, scene).powered = !on;
      return;
    case "instance-not-set":
      deviceNamed(fault.device, scene).instance = on ? fault.instance : null;
      return;
    case "address-changes": {
      const device = deviceNamed(fault.device, scene);
      device.address = on ? fault.address : device.facts.address;
      return;
    }
    case "addresses-swapped": {
      const [one, other] = fault.devices.map((name) => deviceNamed(name, scene));
      one.address = on ? other.facts.address : one.facts.address;
      other.address = on ? one.facts.address : other.facts.address;
      return;
    }
    case "backbone-fails":
      backbone.hit = on ? fault.hit ?? HIT : 0;
      backbone.onlyWhileTransmitting = fault.when === "radio-transmits";
      return;
    case "frames-interleave":
      backbone.interleaves = on;
      return;
    case "misframed": {
      const name = misframedName(deviceNamed(fault.device, scene), fault.pgn);
      if (on) scene.misframed.add(name);
      else scene.misframed.delete(name);
      return;
    }
    case "clock-off":
      backbone.clockOff = on ? fault.by : 0;
      return;
  }
}
