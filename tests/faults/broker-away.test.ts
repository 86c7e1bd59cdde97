import { expect, test, vi } from "vitest";
import { freePort, Mosquitto, Reader } from "../support/mosquitto.ts";
import { needs } from "../support/needs.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { ownFolder } from "../support/own-folder.ts";
import { ROOT, start } from "../support/sternfast.ts";

const BOAT = "engines: { port: { instance: 0, fuel: diesel, rated-speed: 2600 rpm } }\n";
const RULES = `${ROOT}/examples/hazel-comfort/rules/engines.yaml`;
/** A broker that has been away for half a minute is tried half a minute later, twice in this test. */
const TIMEOUT_MS = 180_000;
const waiting = { timeout: 80_000, interval: 20 };

/** The oil goes after a minute, and is back ten seconds later; too slow for a sender to be missed. */
function oilComesAndGoes(begins: number): SpokenRecording {
  return new SpokenRecording(begins)
    .engine(0, 60, { speed: 1000, oil: 45, status: [] })
    .engine(60, 70, { speed: 1000, oil: 2, status: [] })
    .engine(70, 90, { speed: 1000, oil: 45, status: [] });
}

const BEGINS = new SpokenRecording().begins;

needs("mosquitto")("a broker that is away", () => {
  test("at the start is told once, tried again, and then given everything that it missed", {
    timeout: TIMEOUT_MS,
  }, async () => {
    const port = freePort();
    const folder = ownFolder({ "boat.yaml": BOAT });
    const typed = ["run", "-", "--boat", "boat.yaml", "--rules", RULES];
    const broker = ["--broker", `mqtt://127.0.0.1:${port}`, "--state", "state"];
    const running = await start([...typed, ...broker], { folder, input: "piped" });
    await running.until(/The broker is away: nothing listens at .+ tried again/);
    await running.type(oilComesAndGoes(BEGINS).text);
    await running.until(/UTC {2}Over, not yet answered/);

    const mosquitto = await Mosquitto.start(port);
    const reader = await Reader.start(port, "sternfast/boat/#");
    const numbers = () => numbersOf(reader);
    await vi.waitUntil(() => numbers().length >= 2, waiting);
    expect(numbers()).toEqual([1, 2]);

    await mosquitto.kill();
    await running.type(oilComesAndGoes(BEGINS + 600_000_000).text);
    const text = await running.until(/(UTC {2}Over, not yet answered[^]*){2}/);
    expect(text.match(/The broker is away/g)?.length).toBe(2);
    await reader.stop();
    await mosquitto.restart();
    const later = await Reader.start(port, "sternfast/boat/#");
    await vi.waitUntil(() => numbersOf(later).includes(4), waiting);
    const missed = [...new Set(numbersOf(later))];
    expect(missed.slice(missed.indexOf(3))).toEqual([3, 4]);
    await vi.waitUntil(() => later.latest("sternfast/boat/link") !== undefined, waiting);

    running.interrupt();
    expect((await running.finished()).code).toBe(130);
    await later.stop();
    await mosquitto.stop();
  });
});

/** Event numbers as they came; a repeated one may come again. */
function numbersOf(reader: Reader): number[] {
  return reader.on("sternfast/boat/event").map(({ payload }) => {
    const { number }: { number: number } = JSON.parse(payload);
    return number;
  });
}
