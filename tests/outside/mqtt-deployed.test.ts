import { afterAll, beforeAll, describe, expect, onTestFinished, test, vi } from "vitest";
import type { BrokerSettings } from "../../src/outputs/mqtt/broker-connection.ts";
import { Certificates } from "../support/certificates.ts";
import { toolIsInstalled } from "../support/installed-tool.ts";
import { freePort, hasMosquitto, Mosquitto } from "../support/mosquitto.ts";
import { BASE, MqttBoat } from "../support/mqtt-boat.ts";
import { ShoreSide } from "../support/shore-side.ts";
import { ROOT } from "../support/sternfast.ts";

/** mosquitto with the very files of `deploy/`, with certificates made here. */
/** A bridge waits five seconds before it tries again. */
const waiting = { timeout: 40_000, interval: 10 };
const isPossible = hasMosquitto() && ["openssl", "mosquitto_passwd"].every(toolIsInstalled);

describe.skipIf(!isPossible)("the brokers of deploy/", () => {
  const folder = Deno.makeTempDirSync({ prefix: "sternfast-deploy-" });
  const [byCertificate, byPassword] = [freePort(), freePort()];
  let certificates: Certificates;
  let ashore: Mosquitto;

  beforeAll(async () => {
    Deno.chmodSync(folder, 0o777);
    Deno.mkdirSync(`${folder}/certificates`);
    Deno.mkdirSync(`${folder}/ashore-memory`, { mode: 0o777 });
    Deno.chmodSync(`${folder}/ashore-memory`, 0o777);
    certificates = new Certificates(`${folder}/certificates`);
    certificates.sign("broker", "subjectAltName=DNS:localhost");
    for (const name of ["hazel-comfort", "grey-gull", "shore"]) certificates.sign(name);
    Deno.copyFileSync(`${ROOT}/deploy/mosquitto/sternfast.access`, `${folder}/sternfast.access`);
    new Deno.Command("mosquitto_passwd", {
      args: ["-b", "-c", `${folder}/sternfast.passwords`, "reader", "oar"],
    }).outputSync();
    Deno.chmodSync(`${folder}/sternfast.passwords`, 0o644);
    ashore = await started(
      "ashore.conf",
      byCertificate,
      (settings) =>
        settings.replace("listener 8883", `listener ${byCertificate} 127.0.0.1`)
          .replace("listener 8884", `listener ${byPassword} 127.0.0.1`)
          .replace("/var/lib/mosquitto/", `${folder}/ashore-memory/`),
    );
  });
  afterAll(async () => {
    await ashore.stop();
    Deno.removeSync(folder, { recursive: true });
  });

  async function started(
    name: string,
    port: number,
    change: (settings: string) => string,
  ): Promise<Mosquitto> {
    const own = Deno.makeTempDirSync({ prefix: "sternfast-mosquitto-" });
    Deno.chmodSync(own, 0o777);
    const settings = change(Deno.readTextFileSync(`${ROOT}/deploy/mosquitto/${name}`));
    return await Mosquitto.startWith(
      settings.replaceAll("/etc/mosquitto/", `${folder}/`),
      port,
      own,
    );
  }

  const url = () => `mqtts://localhost:${byCertificate}`;
  const as = (name: string): BrokerSettings => ({ url: url(), ...certificates.of(name) });

  async function boatAs(broker: BrokerSettings, more = {}): Promise<MqttBoat> {
    const boat = new MqttBoat();
    await boat.connect(broker.url, BASE, { broker, ...more });
    onTestFinished(() => boat.vanish());
    return boat;
  }

  async function shoreFor(boat: MqttBoat): Promise<ShoreSide> {
    const clock = { steady: () => boat.now, wall: () => boat.now };
    const shore = await ShoreSide.start(as("shore"), clock);
    onTestFinished(() => shore.stop());
    await vi.waitUntil(() => shore.connected, waiting);
    return shore;
  }

  /** One after another, a moment of the boat's time each. */
  const goOn = (boat: MqttBoat, shore: ShoreSide, what: () => boolean) =>
    vi.waitUntil(() => {
      boat.turn(1_000_000);
      shore.tick();
      return what();
    }, waiting);

  test("a boat and the shore come by certificate, and hear each other", async () => {
    const boat = await boatAs(as("hazel-comfort"));
    await vi.waitUntil(() => boat.connected, waiting);
    const shore = await shoreFor(boat);
    for (let i = 1; i <= 5; i++) await boat.change({ occurrence: i });
    await goOn(boat, shore, () => boat.outlet.outbox.ashore === 5);
    expect(await shore.occurrences()).toEqual([1, 2, 3, 4, 5]);
  });

  test("who has no certificate, or no password, is not let in", async () => {
    const { authority } = certificates.of("shore");
    const boat = await boatAs({ url: url(), authority });
    await vi.waitUntil(() => boat.states.at(-1)?.state === "away", waiting);
    const stranger = await boatAs({ url: `mqtts://localhost:${byPassword}`, authority });
    await vi.waitUntil(() => stranger.states.at(-1)?.state === "away", waiting);
    expect(stranger.states.at(-1)).toMatchObject({
      why: expect.stringContaining("does not accept our sign-in"),
    });
    expect(boat.connected || stranger.connected).toBe(false);
  });

  test("a boat cannot speak for another, and a reader changes nothing", async () => {
    const boat = await boatAs(as("hazel-comfort"));
    await vi.waitUntil(() => boat.connected, waiting);
    const shore = await shoreFor(boat);
    const topic = `${BASE}battery/house/voltage`;
    const value = '{"value":99,"unit":"V","time":"2026-06-14T10:12:03.000Z","quality":"good"}';
    await publish(byCertificate, topic, value, ...files("grey-gull"));
    await publish(byPassword, topic, value, "-u", "reader", "-P", "oar", ...files());
    // What comes behind them on its own way shows that they have been dealt with.
    boat.hear("engine/port/oil-pressure", 345_000);
    await goOn(boat, shore, () => shore.boat.values.unitOf("engine/port/oil-pressure") === "Pa");
    expect(shore.boat.values.unitOf("battery/house/voltage")).toBeUndefined();
    await publish(byCertificate, topic, value, ...files("hazel-comfort"));
    await goOn(boat, shore, () => shore.boat.values.unitOf("battery/house/voltage") === "V");
  });

  test("a subscriber that is away misses none of five thousand messages", async () => {
    const session = ["-i", "slow", "-c", "-q", "1", "-t", "sternfast/hazel-comfort/event"];
    const place = ["-h", "localhost", "-p", String(byCertificate), ...files("shore")];
    const subscribe = (...more: string[]) =>
      new Deno.Command("mosquitto_sub", { args: [...place, ...session, ...more] }).output();
    await subscribe("-E");
    const lines = Array.from({ length: 5_000 }, (_, i) => `${i}\n`).join("");
    const sender = new Deno.Command("mosquitto_pub", {
      args: [
        ...["-h", "localhost", "-p", String(byCertificate), ...files("hazel-comfort")],
        ...["-q", "1", "-l", "-t", "sternfast/hazel-comfort/event"],
      ],
      stdin: "piped",
    }).spawn();
    const writer = sender.stdin.getWriter();
    await writer.write(new TextEncoder().encode(lines));
    await writer.close();
    await sender.status;
    const { stdout } = await subscribe("-C", "5000", "-W", "20");
    expect(new TextDecoder().decode(stdout)).toBe(lines);
  });

  test("a broker aboard bridges, and rows wait for the shore's word", async () => {
    const port = freePort();
    Deno.mkdirSync(`${folder}/aboard-memory`);
    Deno.chmodSync(`${folder}/aboard-memory`, 0o777);
    const aboard = await started(
      "aboard.conf",
      port,
      (settings) =>
        settings.replace("listener 1883", `listener ${port}`)
          .replace("broker.example:8883", `localhost:${byCertificate}`)
          .replace("/var/lib/mosquitto/", `${folder}/aboard-memory/`),
    );
    onTestFinished(() => aboard.stop());
    const boat = await boatAs({ url: aboard.url });
    await vi.waitUntil(() => boat.connected, waiting);
    for (let i = 1; i <= 20; i++) await boat.change({ occurrence: i });
    await vi.waitUntil(() => boat.outlet.outbox.mark === 20, waiting);
    expect(boat.outlet.outbox.ashore).toBe(0);
    const shore = await shoreFor(boat);
    await goOn(boat, shore, () => boat.outlet.outbox.ashore === 20);

    // The broker ashore is away for a while: the bridge keeps what it was given, and so does the boat.
    await ashore.kill();
    for (let i = 21; i <= 40; i++) await boat.change({ occurrence: i });
    await goOn(boat, shore, () => boat.outlet.outbox.mark === 40);
    expect(boat.outlet.outbox.ashore).toBe(20);
    await ashore.restart();
    await goOn(boat, shore, () => boat.outlet.outbox.ashore === 40);
    expect(await shore.occurrences()).toEqual(Array.from({ length: 40 }, (_, i) => i + 1));
  });

  function files(name?: string): string[] {
    const place = `${folder}/certificates`;
    const own = name === undefined
      ? []
      : ["--cert", `${place}/${name}.crt`, "--key", `${place}/${name}.key`];
    return ["--cafile", `${place}/authority.crt`, ...own];
  }
});

/** `mosquitto_pub`, whatever comes of it. */
async function publish(port: number, topic: string, payload: string, ...more: string[]) {
  await new Deno.Command("mosquitto_pub", {
    args: ["-h", "localhost", "-p", String(port), "-q", "1", "-t", topic, "-m", payload, ...more],
  }).output();
}
