import { join } from "node:path";
import { expect, onTestFinished, test, vi } from "vitest";
import { PushDeviceFile } from "../../src/commands/watching/push-device-file.ts";
import { hasMosquitto, Mosquitto } from "../support/mosquitto.ts";
import { ownFolder } from "../support/own-folder.ts";
import { PushService } from "../support/push-service.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { ROOT, start } from "../support/sternfast.ts";

const waiting = { timeout: 45_000, interval: 50 };

test.skipIf(!hasMosquitto())(
  "a device that asked on the shore's page is told of a boat's alarm, once",
  async () => {
    const broker = await Mosquitto.start();
    onTestFinished(() => broker.stop());
    const certificates = ownFolder();
    const push = new PushService(certificates);
    onTestFinished(() => push.stop());

    const home = ownFolder({
      "sternfast.yaml": "people:\n  - { name: Ellen, reach: [{ push: ellen@home.example }] }\n",
    });
    const state = join(home, "state", "shore");
    await Deno.mkdir(state, { recursive: true });
    const devices = new PushDeviceFile(state);
    await devices.write([{ person: "Ellen", subscription: push.subscribe("phone") }]);
    const shore = await start(["ashore", "dora", "--broker", broker.url, "--state", "state"], {
      folder: home,
      env: { DENO_CERT: join(certificates, "authority.crt") },
    });
    onTestFinished(() => shore.interrupt());
    await shore.until(/Connected/i);

    const boat = await start(["run"], {
      folder: ownFolder({
        "sternfast.yaml": `
input: "-"
boat: boat.yaml
rules: ${ROOT}/examples/hazel-comfort/rules/engines.yaml
state: state
mqtt: { broker: "${broker.url}" }
`,
        "boat.yaml": `boat: dora
engines: { port: { instance: 0, fuel: diesel, rated-speed: 2600 rpm } }
`,
      }),
      input: "piped",
    });
    onTestFinished(() => boat.interrupt());
    const loss = new SpokenRecording()
      .engine(0, 60, { speed: 2500, oil: 45 })
      .engine(60, 80, { speed: 2500, oil: 2 });
    await boat.type(loss.text);
    const alarms = () =>
      push.received.map(({ payload }) => payload)
        .filter(({ body }) => /oil pressure/.test(body));
    await vi.waitUntil(() => alarms().length > 0, waiting);
    shore.interrupt();
    await shore.finished();
    expect(alarms().map(({ title }) => title)).toEqual(["Dora, ALARM"]);
  },
);
