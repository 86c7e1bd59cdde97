import type { Micros } from "../../ground/time.ts";
import { FaultyReading, type Reading, type ReadingFault } from "../reading-fault.ts";
import type { Belief } from "../satellite-fix.ts";
import { deviceNamed, type Scene } from "../scene.ts";

/** What can go wrong with what is measured. */
export type SenderFault =
  | ({ readonly kind: "reading" } & Reading & ReadingFault)
  /** The satellite fix strays by about so many metres. */
  | { readonly kind: "fix-strays"; readonly metres: number }
  | { readonly kind: "receiver-believes"; readonly what: Exclude<Belief, "truth"> }
  /** A device goes on talking but has nothing to say: its sensors' wires are off. */
  | { readonly kind: "sensors-gone"; readonly device: string }
  /** A slow device measures only so often, and repeats itself meanwhile. */
  | { readonly kind: "repeats-itself"; readonly device: string; readonly every: Micros };

const KINDS: Readonly<Record<SenderFault["kind"], true>> = {
  reading: true,
  "fix-strays": true,
  "receiver-believes": true,
  "sensors-gone": true,
  "repeats-itself": true,
};

export function isSenderFault(fault: { readonly kind: string }): fault is SenderFault {
  return Object.hasOwn(KINDS, fault.kind);
}

export function setSenderFault(fault: SenderFault, on: boolean, scene: Scene): void {
  switch (fault.kind) {
    case "reading": {
      const device = deviceNamed(fault.device, scene);
      const others = device.faultyReadings.filter(({ reading }) => !isSame(reading, fault));
      const label = `${fault.device} ${fault.field}`;
      device.faultyReadings = on
        ? [...others, new FaultyReading(fault, fault, scene.random(label))]
        : others;
      return;
    }
    case "fix-strays":
      scene.boat.satelliteFix.straying = on ? fault.metres : 0;
      return;
    case "receiver-believes":
      scene.boat.satelliteFix.belief = on ? fault.what : "truth";
      return;
    case "sensors-gone":
      deviceNamed(fault.device, scene).sensorsGone = on;
      return;
    case "repeats-itself":
      deviceNamed(fault.device, scene).repeats = on ? fault.every : 0;
      return;
  }
}

function isSame(a: Reading, b: Reading): boolean {
  return a.device === b.device && a.field === b.field &&
    JSON.stringify(a.of) === JSON.stringify(b.of);
}
