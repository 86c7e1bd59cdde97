import type { Clock } from "../../ground/clock.ts";
import type { MailPicture } from "../../outputs/phones/ways/mail-way.ts";
import type { MailServer } from "../../outputs/phones/ways/mail-server.ts";
import { unknownPlaceholder } from "../../outputs/phones/ways/post-template.ts";
import { PostWay } from "../../outputs/phones/ways/post-way.ts";
import { PushWay } from "../../outputs/phones/ways/push-way.ts";
import type { PhoneMessage, SendOutcome, Way } from "../../outputs/phones/way.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import type { MailSettings } from "../settings/mail-settings.ts";
import type { Person } from "../settings/people-settings.ts";
import type { PostReach, PushReach, Reach } from "../settings/reach-settings.ts";
import { readSecret } from "../settings/secrets.ts";
import type { Secret } from "../settings/setting-values.ts";
import type { PushDevices } from "./push-devices.ts";

export interface WaysParts {
  readonly clock: Clock;
  /** Whom mail is given to; there where anybody is told by mail. */
  readonly mail?: MailSettings;
  /** What the signal of an alarm did of late; left out for mail without pictures. */
  readonly picture?: (message: PhoneMessage) => Promise<MailPicture | null>;
  /** Devices that asked to be told; left out where they cannot be known. */
  readonly push?: PushDevices;
}

/**
 * The ways to one person, in the order of the settings.
 * @throws {CommandFailure} where a secret cannot be read, or is not what it should be
 */
export async function openWays(person: Person, parts: WaysParts): Promise<readonly Way[]> {
  const counts = new Map<string, number>();
  const ways: Way[] = [];
  for (const reach of person.reach) {
    const kind = kindOf(reach);
    const count = (counts.get(kind) ?? 0) + 1;
    counts.set(kind, count);
    // Kept with what was told: a second way of one kind has a name of its own.
    const name = count === 1 ? kind : `${kind}-${count}`;
    ways.push(await openWay(name, reach, person, parts));
  }
  return ways;
}

function kindOf(reach: Reach): string {
  return "post" in reach ? "post" : "mail" in reach ? "mail" : "push";
}

async function openWay(
  name: string,
  reach: Reach,
  person: Person,
  parts: WaysParts,
): Promise<Way> {
  try {
    if ("post" in reach) return await openPost(name, reach, parts);
    if ("push" in reach) return openPush(name, reach, person, parts);
    const { clock, picture } = parts;
    const server = await mailServer(parts.mail);
    // Loaded only where somebody is told by mail: most of what a start takes is loading.
    const { MailWay } = await import("../../outputs/phones/ways/mail-way.ts");
    return new MailWay({ name, to: reach.mail, server, picture, wall: () => clock.wall() });
  } catch (error) {
    if (error instanceof TypeError) throw new CommandFailure(`Settings: ${error.message}.`);
    throw error;
  }
}

async function openPost(name: string, reach: PostReach, { clock }: WaysParts): Promise<Way> {
  const headers: Record<string, string> = {};
  for (const [header, value] of Object.entries(reach.headers ?? {})) {
    headers[header] = await plain(value);
  }
  const body = reach.body === undefined ? undefined : await plain(reach.body);
  const unknown = unknownPlaceholder(body ?? "");
  if (unknown !== undefined) {
    const { found, nearest } = unknown;
    const meant = nearest === undefined ? "" : `; did you mean ${nearest}?`;
    throw new TypeError(`The body for "${name}" has ${found}, which stands for nothing${meant}`);
  }
  const address = await plain(reach.post);
  const { method } = reach;
  return new PostWay({ name, address, method, headers, body, wall: () => clock.wall() });
}

function openPush(
  name: string,
  { push: contact }: PushReach,
  { name: person }: Person,
  { push, clock }: WaysParts,
): Way {
  if (push === undefined) return { name, send: () => Promise.resolve(DEVICES_ELSEWHERE) };
  return new PushWay({
    name,
    devices: () => push.subscriptions.of(person),
    onGone: (device) => push.gone(device, person),
    keys: push.keys,
    contact: `mailto:${contact}`,
    wall: () => clock.wall(),
  });
}

const DEVICES_ELSEWHERE: SendOutcome = {
  kind: "try-again",
  why: "only the program that watches knows the devices; the button on its page tests them",
};

async function mailServer(settings: MailSettings | undefined): Promise<MailServer> {
  if (settings === undefined) throw new TypeError("Mail needs a mail server in the mail part");
  const { server, user, password, authority, from } = settings;
  return {
    address: server,
    user,
    password: password && await readSecret(password),
    authority: authority && await readSecret(authority),
    from,
  };
}

async function plain(value: string | Secret): Promise<string> {
  return typeof value === "string" ? value : await readSecret(value);
}
