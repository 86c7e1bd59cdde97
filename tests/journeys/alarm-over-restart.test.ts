import { expect, test, vi } from "vitest";
import { Mosquitto, Reader, send } from "../support/mosquitto.ts";
import { needs } from "../support/needs.ts";
import { ownFolder } from "../support/own-folder.ts";
import { PhoneService } from "../support/phone-service.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { ROOT, start } from "../support/sternfast.ts";

const TAG = "oil-pressure-low-under-load";
const waiting = { timeout: 45_000, interval: 20 };

/** A boat with one engine, the example's engine rules, one person, and a state folder. */
function boatFolder(broker: string, phone: string): string {
  return ownFolder({
    "sternfast.yaml": `
input: "-"
boat: boat.yaml
rules: ${ROOT}/examples/hazel-comfort/rules/engines.yaml
state: state
mqtt: { broker: "${broker}" }
people:
  - { name: Ellen, wants: [alarm], reach: [{ post: "${phone}" }] }
`,
    "boat.yaml": `boat: dora
engines: { port: { instance: 0, fuel: diesel, rated-speed: 2600 rpm } }
`,
  });
}

needs("mosquitto")("situation 6: real oil loss, then everything goes dark", () => {
  test("told once, and kept through stop, silence, a killed program and restart until answered", async () => {
    const mosquitto = await Mosquitto.start();
    const phone = new PhoneService([503]);
    const folder = boatFolder(mosquitto.url, phone.url);
    const reader = await Reader.start(mosquitto.port, "sternfast/dora/#");
    const topic = `sternfast/dora/alarm/${TAG}/port`;
    const state = () => JSON.stringify(reader.latest(topic) ?? {});

    const loss = new SpokenRecording()
      .engine(0, 60, { speed: 2500, oil: 45 })
      .engine(60, 66, { speed: 2500, oil: 2 })
      .engine(66, 67, { speed: 0, oil: 0 });
    const first = await start(["run"], { folder, input: "piped" });
    await first.type(loss.text);
    await vi.waitUntil(() => phone.taken.length === 1, waiting);
    // The engine has stopped and its gateway is dead; the program dies before anyone has answered.
    first.interrupt("SIGKILL");
    await first.finished();

    const later = new SpokenRecording(loss.begins + 600_000_000);
    const second = await start(["run"], { folder, input: "piped" });
    await second.type(later.engine(0, 60, { speed: 0, oil: 0 }).text);
    await vi.waitUntil(
      () => phone.taken.some(({ message }) => message.about === "returned"),
      waiting,
    );
    await vi.waitUntil(() => state().includes('"returned-unacknowledged"'), waiting);
    expect(JSON.parse(state())).toMatchObject({ occurrence: 1, value: expect.any(Number) });

    await send(
      mosquitto.port,
      "sternfast/dora/command/acknowledge",
      JSON.stringify({
        id: "1",
        time: new Date().toISOString(),
        tag: TAG,
        subject: "port",
        occurrence: 1,
        who: "Ellen",
      }),
    );
    await vi.waitUntil(() => state().includes('"state":"normal"'), waiting);
    second.interrupt();
    expect((await second.finished()).code).toBe(130);

    // A kill between the service's "accepted" and our own note of it may repeat one, by its key.
    const byKey = new Map(phone.taken.map(({ key, message }) => [key, message.about]));
    expect([...byKey.values()]).toEqual(["raised", "returned"]);
    expect(phone.received[0]).toMatchObject({ status: 503, key: phone.received[1].key });
    expect(phone.taken[0].message.text).toMatch(/^Dora, ALARM: /);
    const events = reader.on("sternfast/dora/event")
      .map(({ payload }): Event => JSON.parse(payload));
    const numbers = [...new Set(events.map(({ number }) => number))];
    expect(numbers).toEqual([1, 2, 3]);
    expect(new Set(events.map(({ epoch }) => epoch)).size).toBe(1);
    expect(events.map(({ to }) => to).at(-1)).toBe("normal");
    await reader.stop();
    await mosquitto.stop();
  });
});

interface Event {
  readonly number: number;
  readonly epoch: string;
  readonly to: string;
}
