import { resolve } from "node:path";
import type { AlarmChange } from "../alarms/change.ts";
import { BusNames } from "../bus/bus-names.ts";
import type { BrokerState } from "../outputs/mqtt/broker-link.ts";
import { MemoryStore } from "../store/memory-store.ts";
import { type Store, StoreError } from "../store/store.ts";
import { openStore } from "../store/worker-store.ts";
import { Watch } from "../watch.ts";
import { readAlarmMemory } from "./alarm-memory.ts";
import type { Surroundings } from "./command.ts";
import { CommandFailure, type ExitCode } from "./exit-codes.ts";
import { Gateway, type Outlet } from "./gateway.ts";
import type { HostAndPort } from "./host-and-port.ts";
import { openMqtt } from "./mqtt-opening.ts";
import { openSource } from "./open-source.ts";
import { openPage } from "./page-outlet.ts";
import { openPhones } from "./phones-opening.ts";
import { readToEnd, speakOfSource } from "./read-source.ts";
import { realClock } from "./real-clock.ts";
import type { Setup } from "./setup.ts";
import { statusLine } from "./status-line.ts";
import { shortName } from "./text-file.ts";

/** Everything that `run` and `demo` have settled before they begin to watch. */
export interface WatchOrder extends Setup {
  readonly around: Surroundings;
  readonly broker: string | undefined;
  /** For the embedded broker; 0: any port that is free. */
  readonly brokerPort?: number;
  readonly page: HostAndPort | undefined;
  /** State folder; without one nothing is kept. */
  readonly state: string | undefined;
  readonly demo: boolean;
  readonly onChanges?: (changes: readonly AlarmChange[]) => void;
}

/**
 * Watches a boat to the end of its inputs or until interrupted. Whatever cannot be opened ends the
 * command before anything was read; what was opened by then is closed again.
 */
export async function watchBoat(order: WatchOrder): Promise<ExitCode> {
  const { around, boat, rules, settings } = order;
  const { terminal, folder, interrupted } = around;
  const say = (sentence: string) => terminal.error(sentence);
  const clock = realClock();
  const buses = new BusNames();
  const store = await openStateFolder(order.state, folder, say);
  const outlets: Outlet[] = [];
  try {
    const watch = new Watch({
      boat,
      rules,
      busNames: buses,
      memory: await readAlarmMemory(store, say),
    });
    let broker: BrokerState | undefined;
    const gateway = new Gateway({ watch, store, clock, outlets, onChanges: order.onChanges });
    const acknowledge = gateway.acknowledge.bind(gateway);
    const sources = await Promise.all(
      order.inputs.map((input) => openSource(input, { buses, folder: order.inputFolder, clock })),
    );
    interrupted.addEventListener("abort", () => sources.forEach((source) => source.stop()));
    outlets.push(statusLine({
      watch,
      sources,
      terminal,
      steady: () => clock.steady(),
      broker: () => broker,
    }));

    if (order.broker !== undefined) {
      const mqtt = await openMqtt({
        broker: order.broker,
        port: order.brokerPort,
        settings: settings?.mqtt ?? undefined,
        boat: boat.name,
        watch,
        store,
        clock,
        acknowledge,
        onState: (state) => {
          sayBroker(broker, state, say);
          broker = state;
        },
        onNotice: say,
      });
      outlets.push(mqtt);
      say(`Values go to ${mqtt.url} under ${mqtt.base}`);
    }
    if (order.page !== undefined) {
      const page = await openPage({
        watch,
        boat,
        demo: order.demo,
        clock,
        address: order.page,
        acknowledge,
        trouble: (error) => say(`The page had a fault: ${error.message}`),
      });
      outlets.push(page);
      say(`The page is at ${page.url}`);
    }
    if ((settings?.people.length ?? 0) > 0) {
      outlets.push(
        await openPhones({ people: settings?.people ?? [], boat, watch, store, clock, say }),
      );
    }
    if (rules.length === 0) say("No rules are given, so nothing is judged: --rules FILE|DIR");

    const code = await readToEnd(() => gateway.follow(sources), terminal);
    sources.forEach((source) => speakOfSource(source, terminal));
    await gateway.close();
    return code;
  } catch (error) {
    const patience = AbortSignal.timeout(1_000);
    await Promise.all(outlets.map((outlet) => outlet.stop(patience).catch(() => {})));
    await store.close().catch(() => {});
    throw error;
  }
}

async function openStateFolder(
  state: string | undefined,
  folder: string,
  say: (sentence: string) => void,
): Promise<Store> {
  if (state === undefined) return new MemoryStore(crypto.randomUUID().replaceAll("-", ""));
  const place = resolve(folder, state);
  try {
    return await openStore(place, {
      onTrouble: (trouble) => say(trouble ?? "The state folder can be written again."),
      random: Math.random,
    });
  } catch (error) {
    if (!(error instanceof StoreError)) throw error;
    throw new CommandFailure(`${shortName(place, folder)}: ${error.message}`);
  }
}

/** A change of the broker's state is news; a try that fails again is not. */
function sayBroker(
  before: BrokerState | undefined,
  now: BrokerState,
  say: (sentence: string) => void,
): void {
  if (now.state === "away" && before?.state !== "away" && (before !== undefined)) {
    say(`The broker is away: ${now.why}. It is tried again; nothing that matters is lost.`);
  }
  if (now.state === "connected" && before?.state !== "connected") {
    say(`Connected to ${now.broker}.`);
  }
}
