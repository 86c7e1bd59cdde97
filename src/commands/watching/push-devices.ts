import type { PushSubscription } from "../../outputs/phones/ways/push-subscription.ts";
import { PushSubscriptions } from "../../outputs/phones/ways/push-subscriptions.ts";
import {
  makeVapidKey,
  VAPID_KEY_BYTES,
  type VapidKeys,
  vapidKeys,
} from "../../outputs/phones/ways/vapid-keys.ts";
import type { Store } from "../../store/store.ts";
import { keptKey } from "../kept-key.ts";
import type { Person } from "../settings/people-settings.ts";

/** The devices that asked to be told by push messages, and the boat's keys for their services. */
export interface PushDevices {
  readonly subscriptions: PushSubscriptions;
  readonly keys: VapidKeys;
  /** Lets go of a device whose push service does not know it any more. */
  gone(device: PushSubscription, person: string): void;
}

/**
 * Opens them where anybody is told by push messages; else undefined.
 * @param state whole path of the state folder
 * @throws {CommandFailure} where the keys cannot be read or kept
 */
export async function openPushDevices(
  people: readonly Person[],
  store: Store,
  state: string | undefined,
  say: (sentence: string) => void,
): Promise<PushDevices | undefined> {
  if (pushedPeople(people).length === 0) return undefined;
  const subscriptions = new PushSubscriptions(
    await store.documents("push-subscription"),
    (documents) => store.commit({ documents }).saved,
  );
  const key = await keptKey(state, {
    file: "push-key",
    bytes: VAPID_KEY_BYTES,
    make: makeVapidKey,
    words: "The key of push messages",
    lost: "every device must ask anew to be told",
  });
  return {
    subscriptions,
    keys: vapidKeys(key),
    gone(device, person) {
      say(`A device of ${person}'s has ended its push messages, and is not told any more.`);
      // The store tells of its own trouble.
      subscriptions.drop(device.endpoint).catch(() => {});
    },
  };
}

/** Names of those who are told by push messages. */
export function pushedPeople(people: readonly Person[]): readonly string[] {
  return people.filter(({ reach }) => reach.some((way) => "push" in way)).map(({ name }) => name);
}
