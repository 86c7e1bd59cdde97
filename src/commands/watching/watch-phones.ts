import type { Boat } from "../../boat/boat.ts";
import type { Clock } from "../../ground/clock.ts";
import type { AnswerAddress } from "../../outputs/phones/answer-link.ts";
import type { Store } from "../../store/store.ts";
import type { Watch } from "../../watch.ts";
import type { Settings } from "../settings/settings.ts";
import { dayFacts } from "./day-facts.ts";
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
  return await openPhones({
    people,
    boat,
    statuses: () => watch.alarms.statuses(),
    whereabouts: () => watch.boatState.isNobodyAboard ? "ashore" : "aboard",
    answerAddress,
    hailAt: settings?.hail,
    mail: settings?.mail,
    push,
    day: () => {
      const wall = clock.wall();
      const since = wall - (clock.steady() - begun);
      return dayFacts({ watch, boat, history: store.history, since, wall });
    },
    store,
    clock,
    say,
  });
}
