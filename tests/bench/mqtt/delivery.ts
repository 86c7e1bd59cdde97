import mqtt, { type MqttClient } from "mqtt";
import { UNKNOWN_BOAT } from "../../../src/boat/boat.ts";
import { BusNames } from "../../../src/bus/bus-names.ts";
import { FrameBatch, FrameFlag } from "../../../src/bus/frame-batch.ts";
import { emptyCounts, type FrameSource } from "../../../src/bus/frame-source.ts";
import { Gateway } from "../../../src/commands/watching/gateway.ts";
import { MILLISECOND } from "../../../src/ground/time.ts";
import { MqttOutlet } from "../../../src/outputs/mqtt/mqtt-outlet.ts";
import { MemoryStore } from "../../../src/store/memory-store.ts";
import { Watch } from "../../../src/watch.ts";

/** Engines that speak in turn, so that hardly two changes of one signal meet. */
const ENGINES = 50;
/** PGN 127488, engine speed: instance, then speed in steps of 0.25. */
const IDENTIFIER = (2 << 26 | 127488 << 8 | 1) >>> 0;
const BASE = "sternfast/bench/";

export interface Delays {
  /** Milliseconds from handing over to having it, in order of size. */
  readonly ours: Float64Array;
  readonly bare: Float64Array;
  readonly sent: number;
}

/**
 * Hands batches of one message over at a rate, to the whole gateway and to a bare MQTT client, and
 * takes the time until a subscriber has each.
 */
export async function measureDelivery(
  url: string,
  rate: number,
  seconds: number,
): Promise<Delays> {
  const subscriber = await connected(mqtt.connect(url, { protocolVersion: 5 }));
  const bare = await connected(mqtt.connect(url, { protocolVersion: 5 }));
  await subscriber.subscribeAsync([`${BASE}engine/+/speed`, "bare/+"]);
  const handedOver = new Map<string, number>();
  const [ours, others]: [number[], number[]] = [[], []];
  subscriber.on("message", (topic, payload) => {
    const now = performance.now();
    const isBare = topic.startsWith("bare/");
    const value = JSON.parse(payload.toString()).value;
    const engine = isBare ? topic.slice(5) : topic.split("/")[3];
    const begun = handedOver.get(`${engine} ${value}`);
    if (begun !== undefined) (isBare ? others : ours).push(now - begun);
  });

  const store = new MemoryStore("0123456789abcdef");
  const busNames = new BusNames();
  const watch = new Watch({ boat: UNKNOWN_BOAT, rules: [], busNames });
  const clock = {
    steady: () => Math.round((performance.timeOrigin + performance.now()) * MILLISECOND),
    wall: () => Date.now() * MILLISECOND,
  };
  const outlet = await MqttOutlet.open({
    broker: { url },
    base: BASE,
    store,
    table: watch.signals.table,
    clock,
    random: Math.random,
    report: { fastest: 0, slowest: 1e12, deadbandOf: () => 0 },
    onAnswer: () => ({ accepted: true }),
    onCondition: () => {},
    onState: () => {},
    onNotice: () => {},
  });
  const gateway = new Gateway({
    watch,
    store,
    clock,
    outlets: [{
      turn: (now) => outlet.turn({ now, wallOf: (steady) => steady }),
      stop: (patience) => outlet.stop(patience),
    }],
    interrupted: new AbortController().signal,
    onChanges: () => {},
    onTrouble: (error) => {
      throw error;
    },
  });

  const count = rate * seconds;
  async function* batches(): AsyncGenerator<FrameBatch> {
    const batch = new FrameBatch(1);
    const began = performance.now();
    for (let i = 0; i < count; i++) {
      const wait = began + (i * 1000) / rate - performance.now();
      if (wait > 0) await new Promise((resolve) => setTimeout(resolve, wait));
      const engine = i % ENGINES;
      const raw = 2400 + Math.floor(i / ENGINES);
      batch.times[0] = clock.wall();
      batch.buses[0] = busNames.numberOf("can0");
      batch.flags[0] = FrameFlag.extended;
      batch.identifiers[0] = IDENTIFIER;
      batch.lengths[0] = 8;
      batch.data.set([engine, raw & 0xff, raw >> 8, 0xff, 0xff, 0x7f, 0xff, 0xff]);
      batch.count = 1;
      const value = raw * 0.25;
      handedOver.set(`${engine} ${value}`, performance.now());
      bare.publish(`bare/${engine}`, payloadOf(value), { retain: true });
      yield batch;
    }
  }
  const source: FrameSource = {
    title: "bench",
    live: true,
    counts: emptyCounts(),
    problems: [],
    batches,
    stop: () => {},
  };
  await gateway.follow([source]);
  const end = performance.now() + 1_000;
  while (others.length < count && performance.now() < end) {
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  await gateway.close();
  await Promise.all([subscriber.endAsync(), bare.endAsync()]);
  return {
    ours: Float64Array.from(ours).sort(),
    bare: Float64Array.from(others).sort(),
    sent: count,
  };
}

/** As long as one of ours. */
function payloadOf(value: number): string {
  const time = new Date().toISOString();
  return JSON.stringify({ value, unit: "1/min", time, quality: "good" });
}

function connected(client: MqttClient): Promise<MqttClient> {
  return new Promise((resolve) => client.once("connect", () => resolve(client)));
}
