import type { AlarmStatus, Answer, AnswerOutcome } from "../../alarms/change.ts";
import { onWatch } from "../../alarms/on-watch.ts";
import type { Proof } from "../../alarms/proof.ts";
import type { Boat } from "../../boat/boat.ts";
import type { BoatSaying } from "../../boat/boat-state.ts";
import type { Clock } from "../../ground/clock.ts";
import { type Micros, MILLISECOND } from "../../ground/time.ts";
import { aboutWords } from "../../outputs/page/alarm-words.ts";
import type { AnswerLinks } from "../../outputs/page/answering/answer-links.ts";
import type { BoatView } from "../../outputs/page/boat-view.ts";
import { buildView } from "../../outputs/page/build-view.ts";
import { type ListeningAddress, PageStartError } from "../../outputs/page/listening-address.ts";
import { PageServer } from "../../outputs/page/page-server.ts";
import type { PushDesk } from "../../outputs/page/phones/push-desk.ts";
import type { Watch } from "../../watch.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import type { PageAccess } from "../settings/page-access.ts";
import { conditionWords } from "./condition-words.ts";
import type { Outlet } from "./gateway.ts";
import type { PhonesOutlet } from "./phones-opening.ts";
import { hailOnPage, whoWasTold } from "./phones-on-page.ts";

export interface PageParts extends PageAccess {
  readonly watch: Watch;
  readonly boat: Boat;
  readonly demo: boolean;
  readonly clock: Clock;
  readonly address: ListeningAddress;
  readonly answer: (answer: Answer, isAfar: boolean) => Promise<AnswerOutcome>;
  readonly setCondition: (saying: BoatSaying) => Promise<void>;
  readonly links: AnswerLinks;
  /** When each alarm really sounded; undefined where that is not kept. */
  readonly proofs: (() => readonly Proof[]) | undefined;
  readonly phones: PhonesOutlet | undefined;
  /** Those who are told. */
  readonly people: readonly { readonly name: string }[];
  /** Where a device asks to be told; left out where nobody is told by push messages. */
  readonly push?: PushDesk;
  readonly say: (sentence: string) => void;
  readonly trouble: (error: Error) => void;
}

const PUBLISH_EVERY: Micros = 250 * MILLISECOND;

/**
 * The page as an outlet of the gateway.
 * @throws {CommandFailure} where the address is not free, or the page would be open to others
 */
export async function openPage(parts: PageParts): Promise<Outlet & { readonly url: string }> {
  const { boat, clock, answer, setCondition, phones, say } = parts;
  let alarms: readonly AlarmStatus[] = parts.watch.alarms.statuses();
  let view = viewOf(parts, alarms, undefined);
  const server = new PageServer({ ...parts, aboard: true, timeZone: boat.timeZone });
  server.show(boat.name, view, {
    answer,
    async setCondition(saying, who) {
      await setCondition(saying);
      say(conditionWords(who, saying));
      return { accepted: true };
    },
    hail: phones && (() => hailOnPage(phones)),
  });
  const { url } = await server.start(parts.address).catch((error) => {
    if (error instanceof PageStartError) throw new CommandFailure(error.message);
    throw error;
  });
  let nextPublish: Micros = 0;
  const publish = (): void => {
    view = viewOf(parts, alarms, view);
    server.publish(boat.name, view);
  };
  const showAlarms = (now: readonly AlarmStatus[]): void => {
    alarms = now;
    publish();
  };
  return {
    url,
    turn() {
      if (clock.steady() < nextPublish) return;
      nextPublish = clock.steady() + PUBLISH_EVERY;
      publish();
    },
    alarmsSaved: showAlarms,
    eventsUnsaved: (_, now) => showAlarms(now),
    stop: () => server.stop(),
  };
}

/** @param statuses alarms as they were when they were last saved, or the disk would not take them */
function viewOf(
  { watch, boat, demo, clock, proofs, phones, people }: PageParts,
  statuses: readonly AlarmStatus[],
  previous: BoatView | undefined,
): BoatView {
  const { timeline, alarms, signals } = watch;
  const unjudged = alarms.unjudged();
  return buildView({
    boat: boat.name,
    timeZone: boat.timeZone,
    demo,
    owners: boat.units,
    table: signals.table,
    alarms: statuses,
    rooms: alarms.roomLeft(timeline.now),
    condition: watch.boatState.record.condition,
    winterised: watch.boatState.record.winterised,
    proofs: proofs?.(),
    told: phones && whoWasTold(phones.standing(), people, false),
    watch: {
      onWatch: onWatch(statuses, unjudged),
      unjudged: unjudged.map(({ title, tag, subject, reason }) => ({
        title,
        about: subject === "" ? "" : aboutWords(signalOf(tag, subject), subject),
        reason,
      })),
    },
    // Before the first frame only this computer's clock knows what time it is.
    now: watch.lastFrame === 0 ? clock.wall() : timeline.wallOf(timeline.now),
    lastFrame: watch.lastFrame,
    wallOf: (steady) => timeline.wallOf(steady),
  }, previous);

  function signalOf(tag: string, subject: string): string {
    return statuses.find((one) => one.tag === tag && one.subject === subject)?.signal ?? "";
  }
}
