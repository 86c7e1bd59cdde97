const OWNERS: Readonly<Record<string, string>> = {
  "units": "the list of units",
  "networks": "a network",
  "engines": "an engine",
  "generators": "a generator",
  "batteries": "a battery",
  "chargers": "a charger",
  "tanks": "a tank",
  "bilges": "a bilge",
  "inverters": "an inverter",
  "shore-power": "a shore connection",
  "switches": "a switch",
  "detectors": "a detector",
  "temperatures": "a temperature",
  "mooring": "a mooring",
  "position": "a position",
  "devices": "a device",
};

/** Whose a group of keys is, for a sentence: `an engine`, `the exhaust of an engine`. */
export function ownerOf(path: readonly PropertyKey[]): string {
  const owner = path.length === 0 ? undefined : OWNERS[String(path[0])];
  if (owner === undefined) return "a boat file";
  return path.length > 2 ? `the ${String(path.at(-1))} of ${owner}` : owner;
}
