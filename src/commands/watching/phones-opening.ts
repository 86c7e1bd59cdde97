import type { AlarmChange, AlarmStatus } from "../../alarms/change.ts";
import type { Boat } from "../../boat/boat.ts";
import type { Clock } from "../../ground/clock.ts";
import { Delivery, type DeliveryProgress } from "../../outputs/phones/delivery.ts";
import { boatWords, raisedWords, returnedWords } from "../../outputs/phones/phone-words.ts";
import type { Store } from "../../store/store.ts";
import type { Outlet } from "./gateway.ts";
import type { Person } from "../settings/people-settings.ts";
import { wait } from "./wait.ts";
import { openWays } from "./ways-opening.ts";

export interface PhonesParts {
  readonly people: readonly Person[];
  readonly boat: Boat;
  /** Alarms as they stand, for what they mean and what to do. */
  readonly statuses: () => readonly AlarmStatus[];
  /** Whose alarm a change is, where it is not this boat's: `hazel-comfort`. */
  readonly boatOf?: (change: AlarmChange) => string;
  readonly store: Store;
  readonly clock: Clock;
  readonly say: (sentence: string) => void;
}

/**
 * Every way to every person as one outlet of the gateway. Each tells on its own.
 * @throws {CommandFailure} where a secret cannot be read
 */
export async function openPhones(parts: PhonesParts): Promise<Outlet> {
  const { clock, store, say } = parts;
  const deliveries: Delivery[] = [];
  for (const person of parts.people) {
    for (const way of await openWays(person, clock)) {
      deliveries.push(
        await Delivery.open({
          store,
          person: person.name,
          wants: person.wants,
          boat: boatWords(parts.boat.name),
          way,
          words: wordsFor(parts),
          wall: () => clock.wall(),
          random: Math.random,
          wait,
          onProgress: (progress) => sayProgress(progress, say),
        }),
      );
    }
  }
  return {
    alarmsSaved: () => deliveries.forEach((delivery) => delivery.wake()),
    emergenciesUnsaved(events) {
      for (const event of events) deliveries.forEach((delivery) => delivery.tellUnsaved(event));
    },
    async stop(patience) {
      await Promise.race([
        Promise.all(deliveries.map((delivery) => delivery.idle())),
        new Promise((resolve) => patience.addEventListener("abort", resolve, { once: true })),
      ]);
      await Promise.all(deliveries.map((delivery) => delivery.stop()));
    },
  };
}

function wordsFor({ boat, boatOf, statuses, clock }: PhonesParts): Delivery["parts"]["words"] {
  return (change, about) => {
    const status = statuses().find(({ tag, subject }) =>
      tag === change.tag && subject === change.subject
    );
    const wording = {
      boat: boatWords(boatOf?.(change) ?? boat.name),
      timeZone: boat.timeZone,
      // Nobody has said that somebody is aboard.
      whereabouts: "ashore",
      now: clock.wall(),
    } as const;
    return about === "raised"
      ? raisedWords(change, status, wording)
      : returnedWords(change, status, wording);
  };
}

/** Only what a person at the terminal should know: trouble once, and its end. */
function sayProgress(progress: DeliveryProgress, say: (sentence: string) => void): void {
  const { person, state, attempt, why } = progress;
  if (state === "waiting" && attempt === 1) {
    say(`${person} could not be told yet: ${why}. It is tried again.`);
  } else if (state === "refused") {
    say(`${person} could not be told, and it is not tried again: ${why}.`);
  } else if (state === "accepted" && attempt > 1) {
    say(`${person} has been told, at try ${attempt}.`);
  }
}
