import type { Document } from "../../../store/store.ts";
import {
  type KeptSubscription,
  keptSubscriptionSchema,
  type PushSubscription,
  subscriptionKey,
} from "./push-subscription.ts";

/** Devices of one person; more are hardly anybody's, and each costs a request for every message. */
const MOST_DEVICES = 20;

/**
 * Which devices have asked to be told, and whose they are. What changes is given to `keep` at once.
 */
export class PushSubscriptions {
  /** By short name. */
  readonly #kept = new Map<string, KeptSubscription>();

  /** @param documents what was kept, of kind `push-subscription`; what cannot be read is left out */
  constructor(
    documents: ReadonlyMap<string, string>,
    readonly keep: (documents: readonly Document[]) => Promise<void>,
  ) {
    for (const text of documents.values()) {
      const kept = readKept(text);
      if (kept !== undefined) this.#kept.set(subscriptionKey(kept.subscription.endpoint), kept);
    }
  }

  of(person: string): readonly PushSubscription[] {
    return [...this.#kept.values()].filter((kept) => kept.person === person)
      .map(({ subscription }) => subscription);
  }

  /** A device is one person's: a later wish takes the place of an earlier one. */
  async add(
    person: string,
    subscription: PushSubscription,
  ): Promise<"added" | "too-many"> {
    const key = subscriptionKey(subscription.endpoint);
    const isNew = this.#kept.get(key)?.person !== person;
    if (isNew && this.of(person).length >= MOST_DEVICES) return "too-many";
    const kept = { person, subscription };
    this.#kept.set(key, kept);
    await this.keep([{ kind: "push-subscription", key, text: JSON.stringify(kept) }]);
    return "added";
  }

  /** Lets go of a device; one that is not known is no matter. */
  async drop(endpoint: string): Promise<void> {
    const key = subscriptionKey(endpoint);
    if (this.#kept.delete(key)) await this.keep([{ kind: "push-subscription", key, text: null }]);
  }
}

function readKept(text: string): KeptSubscription | undefined {
  try {
    return keptSubscriptionSchema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}
