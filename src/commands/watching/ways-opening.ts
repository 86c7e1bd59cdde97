import type { Clock } from "../../ground/clock.ts";
import { PostWay } from "../../outputs/phones/ways/post-way.ts";
import type { Way } from "../../outputs/phones/way.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import type { Person } from "../settings/people-settings.ts";
import type { Reach } from "../settings/reach-settings.ts";
import { readSecret } from "../settings/secrets.ts";
import type { Secret } from "../settings/setting-values.ts";

/**
 * The ways to one person, in the order of the settings.
 * @throws {CommandFailure} where a secret cannot be read
 */
export async function openWays(person: Person, clock: Clock): Promise<readonly Way[]> {
  return await Promise.all(person.reach.map((reach, place) => openWay(reach, place, clock)));
}

async function openWay(reach: Reach, place: number, clock: Clock): Promise<Way> {
  const headers: Record<string, string> = {};
  for (const [name, value] of Object.entries(reach.headers ?? {})) {
    headers[name] = await plain(value);
  }
  // Kept with what was told: a second way of the same person has a name of its own.
  const name = place === 0 ? "post" : `post-${place + 1}`;
  const address = await plain(reach.post);
  try {
    return new PostWay({ name, address, headers, wall: () => clock.wall() });
  } catch (error) {
    if (error instanceof TypeError) throw new CommandFailure(`Settings: ${error.message}.`);
    throw error;
  }
}

async function plain(value: string | Secret): Promise<string> {
  return typeof value === "string" ? value : await readSecret(value);
}
