import type { AlarmChange, AlarmStatus } from "../../alarms/change.ts";
import type { Boat } from "../../boat/boat.ts";
import type { AnswerAddress } from "../../outputs/phones/answer-link.ts";
import type { DeliveryStanding } from "../../outputs/phones/delivery/told-record.ts";
import { hail, type HailAnswer } from "../../outputs/phones/hail.ts";
import { Phones, type ReachedPerson } from "../../outputs/phones/phones.ts";
import { boatWords } from "../../outputs/phones/words/boat-words.ts";
import type { DayFacts } from "../../outputs/phones/words/daily-line.ts";
import type { Person } from "../settings/people-settings.ts";
import type { Store } from "../../store/store.ts";
import type { Outlet } from "./gateway.ts";
import { deliveryNews } from "./delivery-news.ts";
import { openPhoneDiary } from "./phone-diary.ts";
import { wait } from "./wait.ts";
import { openWays, type WaysParts } from "./ways-opening.ts";

export interface PhonesOpening extends WaysParts {
  readonly people: readonly Person[];
  readonly boat: Boat;
  /** Alarms as they stand, for what they mean and what to do. */
  readonly statuses: () => readonly AlarmStatus[];
  /** Whether the rule that raised an alarm is taken out; left out where that is not known. */
  readonly isGone?: (change: AlarmChange) => boolean;
  /** Where people are; where nobody knows: ashore. */
  readonly whereabouts?: () => "aboard" | "ashore";
  /** Whose alarm a change is, where it is not this boat's: `hazel-comfort`. */
  readonly boatOf?: (change: AlarmChange) => string;
  /** Where a phone can answer; left out where no phone can. */
  readonly answerAddress?: AnswerAddress;
  /** No alarm here can be shelved, such as *boat not heard*. */
  readonly isNeverShelved?: boolean;
  /** When every way is tested: a cron text; left out for never. */
  readonly hailAt?: string;
  /** How the last day was; left out where nobody knows. */
  readonly day?: () => Promise<DayFacts>;
  readonly store: Store;
  readonly say: (sentence: string) => void;
}

export interface PhonesOutlet extends Outlet {
  /** How messages stand, the newest first. */
  standing(): readonly DeliveryStanding[];
  /** Tests every way to everybody, and tells what each answered. */
  hail(): Promise<readonly HailAnswer[]>;
  turn(): void;
}

/**
 * Everybody who is told on a phone, as one outlet of the gateway.
 * @throws {CommandFailure} where a secret cannot be read
 */
export async function openPhones(parts: PhonesOpening): Promise<PhonesOutlet> {
  const { clock, store, say, boat, boatOf, statuses, answerAddress } = parts;
  const people: ReachedPerson[] = [];
  for (const person of parts.people) {
    people.push({ ...person, ways: await openWays(person, parts) });
  }
  const phones = await Phones.open({
    people,
    store,
    clock,
    timeZone: boat.timeZone,
    boatOf: (change) => boatWords(boatOf?.(change) ?? boat.name),
    statusOf: (change) =>
      statuses().find(({ tag, subject }) => tag === change.tag && subject === change.subject),
    isGone: parts.isGone,
    whereabouts: parts.whereabouts ?? (() => "ashore"),
    answerAddress,
    isNeverShelved: parts.isNeverShelved,
    random: Math.random,
    wait,
    onStep: deliveryNews(say),
    onFault: ({ message }) => say(`Something went wrong while people were told: ${message}.`),
  });
  const stopping = new AbortController();
  const hailAll = () =>
    hail({
      people,
      boat: boatWords(boat.name),
      timeZone: boat.timeZone,
      wall: clock.wall(),
      cut: stopping.signal,
    });
  const diary = await openPhoneDiary({
    phones,
    people: parts.people,
    boat,
    store,
    clock,
    hailAt: parts.hailAt,
    hail: hailAll,
    day: parts.day,
    say,
  });
  return {
    standing: () => phones.standing(),
    hail: hailAll,
    turn: () => diary.turn(),
    alarmsSaved: () => phones.wake(),
    eventsUnsaved: (events) => phones.tellUnsaved(events),
    async stop(patience) {
      stopping.abort();
      await Promise.race([
        phones.idle(),
        new Promise((resolve) => patience.addEventListener("abort", resolve, { once: true })),
      ]);
      await phones.stop();
    },
  };
}
