import type { Boat } from "../../boat/boat.ts";
import { RecentValues } from "../../boat/recent-values.ts";
import type { Clock } from "../../ground/clock.ts";
import type { Micros } from "../../ground/time.ts";
import type { AnswerAddress } from "../../outputs/phones/answer-link.ts";
import type { Store } from "../../store/store.ts";
import type { Watch } from "../../watch.ts";
import type { Settings } from "../settings/settings.ts";
import { dayFacts } from "./day-facts.ts";
import { DayTrouble } from "./day-trouble.ts";
import { mailPicture } from "./mail-picture.ts";
import { openPhones, type PhonesOutlet } from "./phones-opening.ts";
import type { PushDevices } from "./push-devices.ts";

export interface WatchPhonesParts {
  readonly settings: Settings | undefined;
  readonly boat: Boat;
  readonly watch: Watch;
  readonly store: Store;
  readonly clock: Clock;
  /** Devices that asked to be told; left out where nobody is told by push messages. */
  readonly push?: PushDevices;
  /** Where a phone can answer; left out where no phone can. */
  readonly answerAddress?: AnswerAddress;
  readonly say: (sentence: string) => void;
}

/**
 * The phones of a boat that is watched here, or undefined where nobody is to be told.
 * @throws {CommandFailure} where a secret cannot be read
 */
export async function openWatchPhones(
  { settings, boat, watch, store, clock, answerAddress, push, say }: WatchPhonesParts,
): Promise<PhonesOutlet | undefined> {
  const people = settings?.people ?? [];
  if (people.length === 0) return undefined;
  const begun = clock.steady();
  const statuses = () => watch.alarms.statuses();
  const recent = new RecentValues(
    watch.signals.table,
    (signal) => settings?.mail !== undefined && watch.alarms.isNamed(signal),
  );
  const trouble = new DayTrouble(watch);
  const wallOf = (steady: Micros) => watch.timeline.wallOf(steady);
  const phones = await openPhones({
    people,
    boat,
    statuses,
    isGone: (change) => !watch.alarms.has(change),
    whereabouts: () => watch.boatState.isNobodyAboard ? "ashore" : "aboard",
    answerAddress,
    hailAt: settings?.hail,
    mail: settings?.mail,
    picture: mailPicture({ boat, recent, statuses, wallOf }),
    push,
    day: () => {
      const [wall, steady] = [clock.wall(), clock.steady()];
      const since = wall - (steady - begun);
      return dayFacts({
        ...{ watch, boat, history: store.history, since, wall },
        ...trouble.facts(steady, wall),
      });
    },
    store,
    clock,
    say,
  });
  return {
    ...phones,
    turn() {
      if (settings?.mail !== undefined) recent.look(watch.timeline.now);
      trouble.look(clock.steady());
      phones.turn();
    },
  };
}
