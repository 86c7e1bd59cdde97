import { join } from "node:path";
import type { PushSubscription } from "../../outputs/phones/ways/push-subscription.ts";
import { PushSubscriptions } from "../../outputs/phones/ways/push-subscriptions.ts";
import {
  makeVapidKey,
  VAPID_KEY_BYTES,
  type VapidKeys,
  vapidKeys,
} from "../../outputs/phones/ways/vapid-keys.ts";
import { type KeptKey, keptKey } from "../kept-key.ts";
import type { Person } from "../settings/people-settings.ts";
import { PushDeviceFile } from "./push-device-file.ts";

/** The devices that asked to be told by push messages, and the boat's keys for their services. */
export interface PushDevices {
  readonly subscriptions: PushSubscriptions;
  readonly keys: VapidKeys;
  /** Lets go of a device whose push service does not know it any more. */
  gone(device: PushSubscription, person: string): void;
}

const KEY: KeptKey = {
  file: "push-key",
  bytes: VAPID_KEY_BYTES,
  make: makeVapidKey,
  words: "The key of push messages",
  lost: "every device must ask anew to be told",
};

/**
 * Opens them where anybody is told by push messages; else undefined.
 * @param state whole path of the state folder, which exists; without one they end with the program
 * @throws {CommandFailure} where the keys cannot be read or kept
 */
export async function openPushDevices(
  people: readonly Person[],
  state: string | undefined,
  say: (sentence: string) => void,
): Promise<PushDevices | undefined> {
  if (pushedPeople(people).length === 0) return undefined;
  const file = state === undefined ? undefined : new PushDeviceFile(state);
  const subscriptions = new PushSubscriptions(
    await file?.read() ?? [],
    (kept) => file?.write(kept) ?? Promise.resolve(),
  );
  return {
    subscriptions,
    keys: vapidKeys(await keptKey(state, KEY)),
    gone(device, person) {
      say(ended(person));
      subscriptions.drop(device.endpoint).catch(({ message }: Error) =>
        say(`That could not be written down: ${message}.`)
      );
    },
  };
}

/**
 * The same for whoever only tries them, beside the program that watches: nothing is written. Undefined
 * where they cannot be known from here.
 */
export async function lookAtPushDevices(
  state: string,
  say: (sentence: string) => void,
): Promise<PushDevices | undefined> {
  try {
    const kept = await new PushDeviceFile(state).read();
    // Without a key no device can have asked, and none is made: it must belong to who watches.
    const hasKey = await Deno.stat(join(state, KEY.file)).then(() => true, () => false);
    return {
      subscriptions: new PushSubscriptions(kept, () => Promise.resolve()),
      keys: vapidKeys(await keptKey(hasKey ? state : undefined, KEY)),
      gone: (_, person) => say(ended(person)),
    };
  } catch {
    return undefined;
  }
}

function ended(person: string): string {
  return `A device of ${person}'s has ended its push messages, and is not told any more.`;
}

/** Names of those who are told by push messages. */
export function pushedPeople(people: readonly Person[]): readonly string[] {
  return people.filter(({ reach }) => reach.some((way) => "push" in way)).map(({ name }) => name);
}
