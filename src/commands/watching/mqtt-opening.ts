import type { ProveToken } from "../../outputs/mqtt/answer-by-token.ts";
import type { Answer, AnswerOutcome } from "../../alarms/change.ts";
import type { BoatSaying } from "../../boat/boat-state.ts";
import { type Clock, isCredible } from "../../ground/clock.ts";
import { type Micros, MINUTE } from "../../ground/time.ts";
import type { BrokerState } from "../../outputs/mqtt/broker-link.ts";
import type { DeviceFacts } from "../../outputs/mqtt/device-payload.ts";
import type { EmbeddedBroker } from "../../outputs/mqtt/embedded-broker.ts";
import type { Store } from "../../store/store.ts";
import type { Watch } from "../../watch.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { conditionWords } from "./condition-words.ts";
import type { Outlet } from "./gateway.ts";
import { brokerSettings } from "../settings/mqtt-settings.ts";
import { readSecret } from "../settings/secrets.ts";
import type { MqttSettings } from "../settings/settings.ts";

export interface MqttParts {
  /** `embedded`, or the address of a broker. */
  readonly broker: string;
  /** 0: any port that is free. Only for the embedded broker. */
  readonly port?: number;
  readonly settings: MqttSettings | undefined;
  readonly boat: string;
  readonly watch: Watch;
  readonly store: Store;
  readonly clock: Clock;
  readonly answer: (answer: Answer) => Promise<AnswerOutcome>;
  /** Proves the token of a link that a command carries. */
  readonly proveToken: ProveToken;
  readonly setCondition: (saying: BoatSaying) => Promise<void>;
  readonly onState: (state: BrokerState) => void;
  readonly onNotice: (sentence: string) => void;
}

const DEVICES_EVERY: Micros = 5 * MINUTE;

/**
 * MQTT as an outlet of the gateway, with the embedded broker where that is wanted. Both are loaded
 * only here: most of what a start takes is loading.
 * @throws {CommandFailure} where the embedded broker cannot start or the settings cannot be used
 */
export async function openMqtt(
  parts: MqttParts,
): Promise<Outlet & { readonly url: string; readonly base: string }> {
  const { watch, store, clock, settings } = parts;
  const embedded = parts.broker === "embedded" ? await startBroker(parts.port) : undefined;
  const url = embedded?.url ?? parts.broker;
  const base = `${settings?.base ?? `sternfast/${parts.boat}`}/`;
  const { MqttOutlet, USUAL_REPORT } = await import("../../outputs/mqtt/mqtt-outlet.ts");
  const outlet = await MqttOutlet.open({
    broker: await brokerSettings(url, settings),
    base,
    store,
    table: watch.signals.table,
    clock,
    random: Math.random,
    report: {
      ...USUAL_REPORT,
      fastest: settings?.fastest ?? USUAL_REPORT.fastest,
      slowest: settings?.slowest ?? USUAL_REPORT.slowest,
    },
    // What the embedded broker accepts is still aboard.
    ashore: embedded === undefined && settings?.ashore === true,
    commandKey: settings?.["command-key"] && await readSecret(settings["command-key"]),
    clockIsSet: () => isCredible(clock.wall()),
    proveToken: parts.proveToken,
    onAnswer: parts.answer,
    async onCondition({ condition, who }) {
      await parts.setCondition(condition);
      parts.onNotice(conditionWords(who, condition));
    },
    onState: parts.onState,
    onNotice: parts.onNotice,
  });
  let devicesVersion = -1;
  let devicesDue: Micros = 0;
  return {
    url,
    base,
    turn(now) {
      outlet.turn({ now, wallOf: (steady) => watch.timeline.wallOf(steady) });
      if (watch.devices.version === devicesVersion && clock.steady() < devicesDue) return;
      devicesVersion = watch.devices.version;
      devicesDue = clock.steady() + DEVICES_EVERY;
      outlet.devices(deviceFacts(watch));
    },
    alarmsSaved: (alarms) => outlet.alarms(alarms),
    eventsUnsaved(events, alarms) {
      const tags = new Set(events.map(({ change }) => `${change.tag}/${change.subject}`));
      outlet.alarmsUnsaved(alarms.filter(({ tag, subject }) => tags.has(`${tag}/${subject}`)));
    },
    async stop(patience) {
      await outlet.stop(patience);
      await embedded?.stop();
    },
  };
}

async function startBroker(port: number | undefined): Promise<EmbeddedBroker> {
  const broker = await import("../../outputs/mqtt/embedded-broker.ts");
  try {
    return await broker.startEmbeddedBroker({ port });
  } catch (error) {
    if (error instanceof broker.EmbeddedBrokerError) throw new CommandFailure(error.message);
    throw error;
  }
}

function deviceFacts({ devices, timeline }: Watch): DeviceFacts[] {
  return [...devices.devices].flatMap((device) =>
    device.address === null || devices.lastHeard(device) === 0 ? [] : [{
      name: device.name,
      address: device.address,
      manufacturerCode: device.parts.manufacturerCode,
      function: device.parts.function,
      model: device.product?.model ?? "",
      serial: device.product?.serial ?? "",
      lastHeard: timeline.wallOf(devices.lastHeard(device)),
    }]
  );
}
