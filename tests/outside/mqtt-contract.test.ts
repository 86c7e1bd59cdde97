import { afterEach, beforeEach, describe, expect, onTestFinished, test, vi } from "vitest";
import { HOUR, isoTime, MINUTE, SECOND } from "../../src/ground/time.ts";
import { startEmbeddedBroker } from "../../src/outputs/mqtt/embedded-broker.ts";
import { freePort, hasMosquitto, Mosquitto, Reader, send } from "../support/mosquitto.ts";
import { acknowledgement, BASE, MORNING, MqttBoat, STATUS } from "../support/mqtt-boat.ts";

/**
 * The contract's topics, payloads, retained marks and QoS (contract §4), as `mosquitto_sub` 2.0
 * reads them: an independent client, on an independent broker and on the embedded one.
 */
const brokers = [
  { name: "mosquitto", version: 5, start: (port: number) => Mosquitto.start(port) },
  {
    name: "the embedded broker",
    version: 4,
    start: (port: number) => startEmbeddedBroker({ port }),
  },
];

const waiting = { timeout: 10_000, interval: 5 };

describe.skipIf(!hasMosquitto()).each(brokers)("on $name", ({ start, version }) => {
  let port: number;
  let broker: { url: string; stop(): Promise<void> };
  let boat: MqttBoat;
  let reader: Reader;

  beforeEach(async () => {
    port = freePort();
    broker = await start(port);
    boat = new MqttBoat();
    reader = await Reader.start(port, `${BASE}#`);
  });
  afterEach(async () => {
    await reader.stop();
    await broker.stop();
  });

  async function connect(): Promise<void> {
    await boat.connect(broker.url);
    onTestFinished(() => boat.vanish());
    await vi.waitUntil(() => boat.connected, waiting);
  }

  const seen = (topic: string, count = 1) =>
    vi.waitUntil(() => reader.on(BASE + topic).length >= count, waiting);

  test("a signal is the contract's example, retained, QoS 0", async () => {
    boat.hear("engine/port/oil-pressure", 345_000.4);
    await connect();
    boat.turn();
    await seen("engine/port/oil-pressure");
    expect(reader.on(`${BASE}engine/port/oil-pressure`)).toEqual([{
      topic: "sternfast/hazel-comfort/engine/port/oil-pressure",
      retained: false, // a live reader; the late one below sees the mark
      qos: 0,
      payload: '{"value":345000,"unit":"Pa","time":"2026-06-14T10:12:03.120Z","quality":"good"}',
    }]);
    const late = await Reader.start(port, `${BASE}engine/#`);
    await vi.waitUntil(() => late.messages.length > 0, waiting);
    expect(late.messages[0]).toMatchObject({ retained: true, qos: 0 });
    await late.stop();
  });

  test("a value that grows old is null, bad and says why", async () => {
    boat.hear("engine/port/oil-pressure", 345_000);
    await connect();
    boat.turn();
    boat.now += SECOND;
    boat.lose("engine/port/oil-pressure");
    boat.turn();
    await seen("engine/port/oil-pressure", 2);
    expect(reader.latest(`${BASE}engine/port/oil-pressure`)).toEqual({
      value: null,
      unit: "Pa",
      time: "2026-06-14T10:12:04.120Z",
      quality: "bad",
      reason: "not-heard",
    });
  });

  test("link says connected after everything else, and again every interval", async () => {
    boat.hear("engine/port/oil-pressure", 345_000);
    await connect();
    boat.outlet.alarms([STATUS]);
    boat.turn();
    await seen("link");
    expect(reader.messages.map(({ topic }) => topic.slice(BASE.length)).at(-1)).toBe("link");
    expect(reader.latest(`${BASE}link`)).toEqual({
      state: "connected",
      time: "2026-06-14T10:12:03.120Z",
      interval: 300,
      epoch: "00112233aabbccdd",
      number: 0,
      history: 0,
    });
    boat.turn(5 * MINUTE);
    await seen("link", 2);
    expect(reader.on(`${BASE}link`)[1]).toMatchObject({ qos: 1 });
  });

  test("an alarm's state is retained, QoS 1, with its meaning", async () => {
    await connect();
    boat.outlet.alarms([STATUS]);
    const topic = "alarm/oil-pressure-low-under-load/port";
    await seen(topic);
    expect(reader.on(BASE + topic)[0].qos).toBe(1);
    expect(reader.latest(BASE + topic)).toEqual({
      title: "Low oil pressure under load",
      state: "unacknowledged",
      hold: "none",
      occurrence: 1,
      priority: "alarm",
      value: 75_800,
      unit: "Pa",
      setpoint: 124_106,
      raised: "2026-06-14T10:12:03.120Z",
      changed: "2026-06-14T10:12:04.120Z",
      message: "Port oil pressure 11 psi at 1,800 rpm, limit 18.",
      consequence: "The bearings run dry within a minute or two.",
      response: { aboard: "Bring that engine to idle.", ashore: "Call the number on file." },
    });
    const late = await Reader.start(port, BASE + topic);
    await vi.waitUntil(() => late.messages.length > 0, waiting);
    expect(late.messages[0]).toMatchObject({ retained: true, qos: 1 });
    await late.stop();
  });

  test("an event carries epoch and number, is not retained, and comes before the state", async () => {
    await connect();
    boat.turn();
    await seen("link");
    await boat.change({}, [STATUS]);
    await seen("alarm/oil-pressure-low-under-load/port");
    const [event] = reader.on(`${BASE}event`);
    expect(event.qos).toBe(1);
    expect(reader.messages.at(-1)?.topic).toContain("/alarm/");
    expect(JSON.parse(event.payload)).toEqual({
      epoch: "00112233aabbccdd",
      number: 1,
      tag: "oil-pressure-low-under-load",
      subject: "port",
      occurrence: 1,
      from: "normal",
      to: "unacknowledged",
      hold: "none",
      priority: "alarm",
      signal: "engine/port/oil-pressure",
      value: 75_800,
      unit: "Pa",
      setpoint: 124_106,
      time: "2026-06-14T10:12:03.120Z",
      why: "11 psi is below the limit of 18 psi.",
      by: "",
    });
    const late = await Reader.start(port, `${BASE}+/#`);
    await vi.waitUntil(() => late.on(`${BASE}link`).length > 0, waiting);
    expect(late.on(`${BASE}event`)).toEqual([]);
    await late.stop();
  });

  test("a clean stop says so and leaves no value that looks alive", async () => {
    boat.hear("engine/port/oil-pressure", 345_000);
    await connect();
    boat.turn();
    await seen("link");
    boat.now += SECOND;
    await boat.stop();
    await seen("link", 2);
    expect(reader.latest(`${BASE}link`)).toMatchObject({ state: "stopped" });
    expect(reader.latest(`${BASE}engine/port/oil-pressure`)).toMatchObject({
      value: null,
      quality: "bad",
      reason: "not-heard",
    });
    expect(reader.messages.at(-1)?.topic).toBe(`${BASE}link`);
    expect(boat.states.at(-1)?.state).toBe("stopped");
  });

  test("when the program vanishes the last will says lost", async () => {
    await connect();
    boat.turn();
    await seen("link");
    await boat.vanish();
    await seen("link", 2);
    expect(reader.latest(`${BASE}link`)).toEqual({ state: "lost", time: null, interval: 300 });
  });

  test("a device lies on its NAME", async () => {
    await connect();
    boat.outlet.devices([{
      name: "c0328200a2a0d3f1",
      address: 35,
      manufacturerCode: 1300,
      function: 130,
      model: "Engine interface",
      serial: "A-0042",
      lastHeard: MORNING,
    }]);
    await seen("device/c0328200a2a0d3f1");
    expect(reader.latest(`${BASE}device/c0328200a2a0d3f1`)).toEqual({
      address: 35,
      "manufacturer-code": 1300,
      function: 130,
      model: "Engine interface",
      serial: "A-0042",
      "last-heard": "2026-06-14T10:12:03.120Z",
    });
  });

  test("an acknowledgement reaches the alarms and is answered", async () => {
    await connect();
    await send(port, `${BASE}command/acknowledge`, acknowledgement({}));
    await seen("command-answer/a1");
    expect(boat.answers).toEqual([{
      kind: "acknowledge",
      tag: STATUS.tag,
      subject: "port",
      occurrence: 1,
      who: "Ellen",
    }]);
    expect(reader.latest(`${BASE}command-answer/a1`)).toEqual({
      id: "a1",
      accepted: true,
      time: "2026-06-14T10:12:03.120Z",
    });
  });

  test("what the alarms refuse is answered with their reason", async () => {
    boat.outcome = { accepted: false, refused: "Occurrence 1 is over; 2 is the present one." };
    await connect();
    await send(port, `${BASE}command/acknowledge`, acknowledgement({}));
    await seen("command-answer/a1");
    expect(reader.latest(`${BASE}command-answer/a1`)).toMatchObject({
      accepted: false,
      refused: "Occurrence 1 is over; 2 is the present one.",
    });
    expect(boat.notices).toEqual([
      'Command "acknowledge" was refused: Occurrence 1 is over; 2 is the present one.',
    ]);
  });

  test("a retained, a repeated and an old acknowledgement are refused", async () => {
    await send(port, `${BASE}command/acknowledge`, acknowledgement({ id: "kept" }), "-r");
    await connect();
    await seen("command-answer/kept");
    await send(port, `${BASE}command/acknowledge`, acknowledgement({ id: "twice" }));
    await send(port, `${BASE}command/acknowledge`, acknowledgement({ id: "twice" }));
    await seen("command-answer/twice", 2);
    const old = isoTime(MORNING - 11 * MINUTE, 3);
    await send(port, `${BASE}command/acknowledge`, acknowledgement({ id: "old", time: old }));
    await seen("command-answer/old");
    expect(boat.answers).toHaveLength(1);
    const refused = (id: string) => reader.latest(`${BASE}command-answer/${id}`);
    expect(refused("kept")).toMatchObject({ refused: expect.stringContaining("retained") });
    expect(refused("twice")).toMatchObject({ refused: expect.stringContaining("was here before") });
    expect(refused("old")).toMatchObject({ refused: "The command is older than 10 minutes." });
  });

  test("topics of signals and rules that are gone are cleared", async () => {
    boat.hear("engine/port/oil-pressure", 345_000);
    boat.hear("engine/starboard/oil-pressure", 345_000);
    await connect();
    boat.outlet.alarms([STATUS, { ...STATUS, subject: "starboard" }]);
    boat.turn();
    await seen("link");
    await boat.vanish();

    const later = new MqttBoat(boat.store);
    later.now = boat.now + HOUR;
    later.hear("engine/port/oil-pressure", 345_000);
    await later.connect(broker.url);
    onTestFinished(() => later.vanish());
    await vi.waitUntil(() => later.connected, waiting);
    later.outlet.alarms([STATUS]);
    later.turn();
    // Not heard again yet: it must not look alive.
    await seen("engine/starboard/oil-pressure", 2);
    expect(reader.latest(`${BASE}engine/starboard/oil-pressure`)).toMatchObject({
      quality: "bad",
      reason: "not-heard",
    });
    later.turn(10 * MINUTE);
    await seen("engine/starboard/oil-pressure", 3);
    await seen("alarm/oil-pressure-low-under-load/starboard", 2);
    const kept = await Reader.start(port, `${BASE}#`);
    await vi.waitUntil(() => kept.on(`${BASE}link`).length > 0, waiting);
    expect(kept.messages.map(({ topic }) => topic.slice(BASE.length)).sort()).toEqual([
      "alarm/oil-pressure-low-under-load/port",
      "engine/port/oil-pressure",
      "link",
    ]);
    await kept.stop();
  });

  test("the version of MQTT is the newest that the broker knows", async () => {
    await connect();
    expect(boat.states.at(-1)).toMatchObject({ state: "connected", version });
  });
});
