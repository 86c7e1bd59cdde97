import type { Answer, AnswerOutcome } from "../../alarms/change.ts";
import type { Proof } from "../../alarms/proof.ts";
import type { Boat } from "../../boat/boat.ts";
import type { BoatSaying } from "../../boat/boat-state.ts";
import type { Clock } from "../../ground/clock.ts";
import type { BrokerState } from "../../outputs/mqtt/broker-link.ts";
import type { Store } from "../../store/store.ts";
import type { Watch } from "../../watch.ts";
import { brokerNews } from "./broker-news.ts";
import type { Outlet } from "./gateway.ts";
import type { HostAndPort } from "../command-line/host-and-port.ts";
import { boatLinks } from "../answering/boat-links.ts";
import { keptAnswerKey } from "../answering/answer-key.ts";
import { linkAddress } from "../answering/link-address.ts";
import { readPageAccess } from "../settings/page-access.ts";
import { openMqtt } from "./mqtt-opening.ts";
import { openPage } from "./page-outlet.ts";
import { pushDesk } from "./push-desk.ts";
import { openPushDevices, pushedPeople } from "./push-devices.ts";
import type { Settings } from "../settings/settings.ts";
import { openWatchPhones } from "./watch-phones.ts";

export interface OutletsOrder {
  readonly settings: Settings | undefined;
  readonly broker: string | undefined;
  /** For the embedded broker; 0: any port that is free. */
  readonly brokerPort?: number;
  readonly page: HostAndPort | undefined;
  readonly demo: boolean;
}

export interface OutletsParts {
  readonly boat: Boat;
  readonly watch: Watch;
  readonly store: Store;
  /** Whole path of the state folder; undefined where nothing is kept. */
  readonly state: string | undefined;
  readonly clock: Clock;
  readonly answer: (answer: Answer, isAfar: boolean) => Promise<AnswerOutcome>;
  readonly setCondition: (saying: BoatSaying) => Promise<void>;
  readonly say: (sentence: string) => void;
  /** When each alarm really sounded; undefined where that is not kept. */
  readonly proofs: (() => readonly Proof[]) | undefined;
  readonly onBroker: (state: BrokerState) => void;
}

/**
 * Opens what the settings and the command line ask for, and says where each is to be found. Outlets
 * are added to the list as they open, so that whoever gives up half-way can close them.
 * @throws {CommandFailure} where one cannot be opened
 */
export async function openOutlets(
  { settings, broker, brokerPort, page, demo }: OutletsOrder,
  { boat, watch, store, state, clock, answer, setCondition, say, proofs, onBroker }: OutletsParts,
  outlets: Outlet[],
): Promise<void> {
  const key = await keptAnswerKey(state);
  const wall = () => clock.wall();
  const statuses = () => watch.alarms.statuses();
  const links = boatLinks({ boat: boat.name, key, statuses, wall, answer });
  if (broker !== undefined) {
    const news = brokerNews(say);
    const mqtt = await openMqtt({
      broker,
      port: brokerPort,
      settings: settings?.mqtt,
      boat: boat.name,
      watch,
      store,
      clock,
      // The boat's own broker is reached from the boat's own network only.
      answer: (given) => answer(given, broker !== "embedded"),
      proveToken: links.proveToken,
      setCondition,
      onState(state) {
        news(state);
        onBroker(state);
      },
      onNotice: say,
    });
    outlets.push(mqtt);
    say(`Values go to ${mqtt.url} under ${mqtt.base}`);
  }
  const base = settings?.page?.["answer-address"];
  const answerAddress = base && linkAddress({ base, boatOf: () => boat.name, key, wall }) ||
    undefined;
  const people = settings?.people ?? [];
  const push = await openPushDevices(people, state, say);
  const phones = await openWatchPhones({
    settings,
    boat,
    watch,
    store,
    clock,
    answerAddress,
    push,
    say,
  });
  if (phones !== undefined) outlets.push(phones);
  if (page !== undefined) {
    const opened = await openPage({
      watch,
      boat,
      demo,
      clock,
      address: page,
      answer,
      setCondition,
      links,
      proofs,
      phones,
      people,
      push: push && pushDesk(push, pushedPeople(people)),
      ...await readPageAccess(settings?.page),
      say,
      trouble: (error) => say(`The page had a fault: ${error.message}`),
    });
    outlets.push(opened);
    say(`The page is at ${opened.url}`);
  }
}
