import type { Problem } from "../../ground/problem.ts";
import { type Boat, UNKNOWN_BOAT } from "../boat.ts";
import { deviceFrom, networkFrom } from "./networks.ts";
import type { BoatFile } from "./schema.ts";
import { subjectsOf } from "./subjects.ts";
import { positionFrom } from "./whereabouts.ts";

/** The boat that a checked boat file describes. */
export function boatFrom(file: BoatFile, notices: readonly Problem[]): Boat {
  return {
    name: file.boat ?? UNKNOWN_BOAT.name,
    units: file.units ?? UNKNOWN_BOAT.units,
    timeZone: file["time-zone"] ?? UNKNOWN_BOAT.timeZone,
    subjects: subjectsOf(file).map(({ subject }) => subject),
    devices: Object.entries(file.devices ?? {}).map(([name, device]) => deviceFrom(name, device)),
    networks: Object.entries(file.networks ?? {})
      .map(([name, network]) => networkFrom(name, network)),
    ...positionFrom(file.position),
    ...(file.mooring ? { mooring: file.mooring } : {}),
    notices,
  };
}
