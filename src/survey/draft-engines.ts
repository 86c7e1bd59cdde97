import type { HeardThing } from "./heard-things.ts";
import { sentBy } from "./sent-by.ts";
import { quoted } from "./yaml-text.ts";

/** Lines of a boat file's section, and devices that they name: name → serial or NAME. */
export interface DraftedEngines {
  readonly lines: readonly string[];
  readonly devices: ReadonlyMap<string, string>;
}

/**
 * The engines that were heard, with names to correct. Two gateways that say one instance are told
 * apart by their devices, where they have said who they are.
 * @param severalBuses an instance alone does not say which engine it is
 */
export function draftEngines(
  engines: readonly HeardThing[],
  severalBuses: boolean,
): DraftedEngines {
  const sorted = engines.toSorted((a, b) =>
    placeOf(a) - placeOf(b) || a.sender.bus.localeCompare(b.sender.bus, "en", { numeric: true })
  );
  const lines: string[] = [];
  const devices = new Map<string, string>();
  const names = namesFor(sorted);
  const withoutDevice = new Set<string>();
  for (const [i, engine] of sorted.entries()) {
    const { address, instance } = engine.key;
    const { bus } = engine.sender;
    const rivals = sorted.filter((other) => isSameKey(other, engine, severalBuses));
    const parts = address === undefined
      ? [`instance: ${instance}`, ...(severalBuses ? [`bus: ${quoted(bus)}`] : [])]
      : [`bus: ${quoted(bus)}`, `address: ${address}`];
    if (rivals.length > 1) {
      const identity = identityOf(engine, rivals);
      if (identity === undefined) {
        const key = parts.join();
        lines.push(
          `  # ${rivals.length} senders say ${parts.join(", ")}, and one has not said who it is:`,
          "  # switch the network off and on while a survey listens.",
        );
        if (withoutDevice.has(key)) continue;
        withoutDevice.add(key);
      } else {
        const device = `${names[i]}-gateway`;
        devices.set(device, identity);
        parts.push(`device: ${device}`);
      }
    }
    lines.push(
      `  ${names[i]}: { ${parts.join(", ")} } # ${sentBy(engine)}${askForGenerator(engine)}`,
    );
  }
  return { lines, devices };
}

/** Common practice: 0 is port or the only one, 1 starboard, and what a generator has lies above. */
function askForGenerator({ key: { instance = 0 } }: HeardThing): string {
  return instance > 1 ? "; a generator's? then under generators:" : "";
}

function placeOf({ key, sender }: HeardThing): number {
  return (key.instance ?? key.address ?? 0) * 256 + sender.address;
}

function isSameKey(a: HeardThing, b: HeardThing, severalBuses: boolean): boolean {
  const isOneBus = a.sender.bus === b.sender.bus;
  if (a.key.address !== undefined || severalBuses) {
    return isOneBus && a.key.address === b.key.address && a.key.instance === b.key.instance;
  }
  return a.key.instance === b.key.instance && b.key.address === undefined;
}

/** The serial number where it is its own, else the NAME. */
function identityOf(engine: HeardThing, rivals: readonly HeardThing[]): string | undefined {
  const { name, serial } = engine.sender;
  const isOwn = rivals.filter((rival) => rival.sender.serial === serial).length === 1;
  return serial !== null && isOwn ? serial : name ?? undefined;
}

/** Common practice: with two engines the first is port. */
function namesFor(engines: readonly HeardThing[]): string[] {
  if (
    engines.every(({ isNamed }) => isNamed) &&
    new Set(engines.map(({ subject }) => subject)).size === engines.length
  ) {
    return engines.map(({ subject }) => subject);
  }
  if (engines.length === 1) return ["main"];
  if (engines.length === 2) return ["port", "starboard"];
  return engines.map((_, i) => `engine-${i + 1}`);
}
