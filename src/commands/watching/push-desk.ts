import type { PushDesk } from "../../outputs/page/phones/push-desk.ts";
import { pushSubscriptionSchema } from "../../outputs/phones/ways/push-subscription.ts";
import type { PushDevices } from "./push-devices.ts";

/**
 * Where a browser asks on the page to be told, or to be told no more.
 * @param people names of those who are told by push messages
 */
export function pushDesk(
  { subscriptions, keys }: PushDevices,
  people: readonly string[],
): PushDesk {
  return {
    publicKey: keys.publicKey,
    people,
    async subscribe(written, person) {
      const read = pushSubscriptionSchema.safeParse(written);
      if (!read.success) {
        return { accepted: false, refused: "What the browser said of its push service is no use." };
      }
      if (!people.includes(person)) {
        return { accepted: false, refused: `Nobody called ${person} is told by push messages.` };
      }
      try {
        if (await subscriptions.add(person, read.data) === "added") return { accepted: true };
      } catch {
        return { accepted: false, refused: "It could not be written down; is the disk full?" };
      }
      return { accepted: false, refused: `${person} has too many devices; end one of them first.` };
    },
    async unsubscribe(endpoint) {
      await subscriptions.drop(endpoint);
      return { accepted: true };
    },
  };
}
