import type { Subject } from "../boat.ts";
import { engineSubject, generatorSubject } from "./engines.ts";
import { bilgeSubject, detectorSubject, switchSubject } from "./indicators.ts";
import { batterySubject, chargerSubject, inverterSubject, shorePowerSubject } from "./power.ts";
import { networkSubject } from "./networks.ts";
import type { BoatFile } from "./schema.ts";
import { tankSubject } from "./tanks.ts";
import { temperatureSubject } from "./temperatures.ts";

/** A subject and the part of the boat file that describes it. */
export interface Described {
  readonly path: readonly [section: string, name: string];
  readonly subject: Subject;
}

/** All named things of a boat, section by section. */
export function subjectsOf(file: BoatFile): Described[] {
  return [
    ...section("engines", file.engines, engineSubject),
    ...section("generators", file.generators, generatorSubject),
    ...section("batteries", file.batteries, batterySubject),
    ...section("chargers", file.chargers, chargerSubject),
    ...section("tanks", file.tanks, tankSubject),
    ...section("bilges", file.bilges, bilgeSubject),
    ...section("inverters", file.inverters, inverterSubject),
    ...section("shore-power", file["shore-power"], shorePowerSubject),
    ...section("switches", file.switches, switchSubject),
    ...section("detectors", file.detectors, detectorSubject),
    ...section("temperatures", file.temperatures, temperatureSubject),
    ...section("networks", file.networks, networkSubject),
  ];
}

function section<T>(
  key: keyof BoatFile,
  entries: Readonly<Record<string, T>> | null | undefined,
  subjectFrom: (name: string, entry: T) => Subject,
): Described[] {
  return Object.entries(entries ?? {}).map(([name, entry]) => ({
    path: [key, name],
    subject: subjectFrom(name, entry),
  }));
}
