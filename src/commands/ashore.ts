import { join, resolve } from "node:path";
import { ShoreLink } from "../outputs/mqtt/shore/shore-link.ts";
import type { Arguments } from "./command-line/arguments.ts";
import { AshoreBoats } from "./shore/ashore-boats.ts";
import { AshorePages } from "./shore/ashore-page.ts";
import { ShorePhones } from "./shore/shore-phones.ts";
import { keptAnswerKey } from "./answering/answer-key.ts";
import { linkAddress } from "./answering/link-address.ts";
import { shoreLinks } from "./answering/shore-links.ts";
import { brokerNews } from "./watching/broker-news.ts";
import type { Command, Surroundings } from "./command-line/command.ts";
import { CommandFailure, ExitCode } from "./command-line/exit-codes.ts";
import { type HostAndPort, readPage } from "./command-line/host-and-port.ts";
import { brokerSettings } from "./settings/mqtt-settings.ts";
import { openStateFolder } from "./watching/open-state-folder.ts";
import { BOAT } from "./command-line/options.ts";
import { pushDesk } from "./watching/push-desk.ts";
import { openPushDevices, pushedPeople } from "./watching/push-devices.ts";
import { realClock } from "./watching/real-clock.ts";
import { readPageAccess } from "./settings/page-access.ts";
import { readSecret } from "./settings/secrets.ts";
import { readSetupFiles, type Setup } from "./settings/setup.ts";

const TICK_EVERY_MS = 1_000;
/** How long a phone may take to be told the last word. */
const PATIENCE_MS = 5_000;
/** What a boat's base is without a `base` of its own in the settings. */
const USUAL_ROOT = "sternfast/";

export const ashore: Command = {
  name: "ashore",
  usage: "sternfast ashore [BOAT…]",
  description:
    `Follows boats through a broker: every event and all history, once and in order, with what was
missed asked for again, and told to the boat when it is safe. Says when a boat is not heard.
Without names it follows every boat. The page has a list of them.`,
  examples: [
    "sternfast ashore --broker mqtts://broker.example --state boats --page 127.0.0.1:8260",
    "sternfast ashore hazel-comfort --settings ashore.yaml",
  ],
  options: {
    ...BOAT,
    broker: { value: "URL", help: "the MQTT broker, such as mqtts://broker.example" },
    page: { value: "HOST:PORT", help: "serve the boats' pages here, such as 127.0.0.1:8260" },
    state: { value: "DIR", help: "keep the boats' events and history in this folder" },
  },
  async run(given: Arguments, around: Surroundings): Promise<ExitCode> {
    const setup = await readSetupFiles(given, around);
    const broker = given.text("broker") ?? setup.settings?.mqtt?.broker;
    if (broker === undefined || broker === "embedded") {
      throw new CommandFailure("ashore needs a broker: --broker URL, or mqtt: in the settings");
    }
    const page = readPage(given.text("page")) ?? setup.settings?.page?.address;
    const state = given.text("state") ?? setup.settings?.state;
    return await followBoats({ around, setup, broker, page, state, names: given.words });
  },
};

interface AshoreOrder {
  readonly around: Surroundings;
  readonly setup: Setup;
  readonly broker: string;
  readonly page: HostAndPort | undefined;
  readonly state: string | undefined;
  readonly names: readonly string[];
}

async function followBoats(order: AshoreOrder): Promise<ExitCode> {
  const { around: { terminal, folder, interrupted }, setup, broker, names } = order;
  const say = (sentence: string) => terminal.error(sentence);
  const mqtt = setup.settings?.mqtt;
  const clock = realClock();
  const state = order.state === undefined ? undefined : resolve(folder, order.state);
  const settings = await brokerSettings(broker, mqtt);
  const key = mqtt?.["command-key"] && await readSecret(mqtt["command-key"]);
  const shore = await openStateFolder(state && join(state, "shore"), folder, say);
  const { root, boat } = rootOf(mqtt?.base);
  let served: AshoreBoats | undefined = undefined;
  const answerKey = await keptAnswerKey(state && join(state, "shore"));
  const people = setup.settings?.people ?? [];
  const push = await openPushDevices(people, state && join(state, "shore"), say);
  const answerBase = setup.settings?.page?.["answer-address"];
  const phones = setup.settings && people.length > 0
    ? new ShorePhones({
      settings: setup.settings,
      owner: setup.boat,
      push,
      answerAddress: answerBase === undefined ? undefined : linkAddress({
        base: answerBase,
        // The shore's own alarms have the boat as their subject.
        boatOf: ({ subject }) => subject,
        key: answerKey,
        wall: () => clock.wall(),
      }),
      store: shore,
      clock,
      say,
    })
    : undefined;
  const pages = order.page && await AshorePages.open({
    clock,
    address: order.page,
    owner: setup.boat,
    links: shoreLinks({
      key: answerKey,
      boatOf: (name) => served?.opened(name),
      clock,
    }),
    phones,
    push: push && pushDesk(push, pushedPeople(people)),
    say,
    ...await readPageAccess(setup.settings?.page),
  });
  const boats = await AshoreBoats.open({
    root,
    names: boat === undefined ? names : [boat],
    state: state && join(state, "boats"),
    folder,
    shore,
    clock,
    key,
    send: (name, topic, payload) => link?.send(name, topic, payload) ?? false,
    onKept: () => phones?.wake(),
    onBoat(opened) {
      pages?.show(opened);
      phones?.follow(opened);
    },
    say,
  });
  served = boats;
  await phones?.begin(() => boats.statuses());
  // In order, and one after another: a boat's first message opens its folder.
  let taking: Promise<void> = Promise.resolve();
  const link: ShoreLink | undefined = new ShoreLink({
    broker: settings,
    root,
    boat,
    clientId: `sternfast-ashore-${shore.epoch.slice(0, 8)}`,
    clock,
    random: Math.random,
    onState: brokerNews(say),
    onReceived: (name, message) => {
      taking = taking.then(() => boats.take(name, message))
        .catch((error: Error) => say(`${name}: ${error.message}`));
    },
  });
  const ticking = setInterval(() => {
    link.tick();
    boats.tick();
    phones?.turn();
    pages?.publish();
  }, TICK_EVERY_MS);
  await new Promise<void>((done) => {
    if (interrupted.aborted) return done();
    interrupted.addEventListener("abort", () => done(), { once: true });
  });
  clearInterval(ticking);
  await link.stop();
  await taking;
  await pages?.stop();
  const patience = AbortSignal.timeout(PATIENCE_MS);
  await phones?.stop(patience);
  await boats.close();
  await shore.close();
  return ExitCode.well;
}

/** `sternfast/hazel-comfort` is one boat; without a base every boat below `sternfast/` is meant. */
function rootOf(base: string | undefined): { root: string; boat?: string } {
  if (base === undefined) return { root: USUAL_ROOT };
  const at = base.lastIndexOf("/") + 1;
  return { root: base.slice(0, at), boat: base.slice(at) };
}
