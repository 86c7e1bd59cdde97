import { describe, expect, onTestFinished, test, vi } from "vitest";
import { diskFree } from "../../src/commands/watching/disk-free.ts";
import { freePort, Mosquitto, Reader } from "../support/mosquitto.ts";
import { needs } from "../support/needs.ts";
import { ownFolder } from "../support/own-folder.ts";
import { SmallFolder } from "../support/small-folder.ts";
import { start } from "../support/sternfast.ts";

/** The shipped rules, sooner. */
const RULES = `
use: [computer]
alarms:
  - { tag: broker-away, on-delay: 1 s, off-delay: 1 s }
  - { tag: disk-almost-full, on-delay: 1 s, low: { setpoint: 99.9 % } }
`;
const waiting = { timeout: 60_000, interval: 20 };

/** How much of the disk with a folder `df` leaves of its own use, in percent. */
function byDf(folder: string): number {
  const { stdout } = new Deno.Command("df", { args: ["--output=used,avail", folder] }).outputSync();
  const [used, free] = new TextDecoder().decode(stdout).trim().split("\n")[1].trim().split(/\s+/)
    .map(Number);
  return 100 * free / (used + free);
}

describe("how much of a disk is free", () => {
  test("is what df (GNU coreutils) says of it", async () => {
    const folder = ownFolder({});
    expect(Math.abs(await diskFree(folder) - byDf(folder))).toBeLessThan(0.5);
  });

  const small = SmallFolder.make(2_000);
  test.skipIf(small === undefined)("is nothing on one that was filled", async () => {
    if (small === undefined) return;
    onTestFinished(() => small.remove());
    expect(await diskFree(small.path)).toBeGreaterThan(95);
    small.fill();
    expect(await diskFree(small.path)).toBe(0);
    expect(byDf(small.path)).toBe(0);
  });

  test("is not known where there is no folder", async () => {
    expect(await diskFree("/no/such/folder")).toBeNaN();
  });
});

needs("mosquitto")("the gateway's own health, live", () => {
  test("tells of a broker that was killed, and of its disk", { timeout: 120_000 }, async () => {
    const port = freePort();
    const mosquitto = await Mosquitto.start(port);
    onTestFinished(() => mosquitto.stop());
    const folder = ownFolder({ "rules.yaml": RULES });
    const boat = await start(
      [
        ...[
          "run",
          "simulator:quiet-mooring",
          "--json",
          "--rules",
          "rules.yaml",
          "--state",
          "state",
        ],
        ...["--broker", `mqtt://127.0.0.1:${port}`],
      ],
      { folder },
    );
    await boat.until(/"tag":"disk-almost-full"[^\n]*"to":"acknowledged"/);
    const reader = await Reader.start(port, "sternfast/boat/computer/#");
    await vi.waitUntil(() => reader.latest("sternfast/boat/computer/disk-free"), waiting);
    const free = reader.latest("sternfast/boat/computer/disk-free");
    expect(free).toMatchObject({ unit: "%", quality: "good" });
    expect(Math.abs(Number(Object(free).value) - byDf(folder))).toBeLessThan(5);
    await vi.waitUntil(() => reader.latest("sternfast/boat/computer/broker-link"), waiting);
    expect(reader.latest("sternfast/boat/computer/broker-link"))
      .toMatchObject({ value: "connected" });
    await reader.stop();

    await mosquitto.kill();
    await boat.until(/"tag":"broker-away"[^\n]*"to":"acknowledged"/);
    await mosquitto.restart();
    await boat.until(/"tag":"broker-away"[^\n]*"to":"normal"/);
    boat.interrupt();
    expect((await boat.finished()).code).toBe(130);
  });
});
