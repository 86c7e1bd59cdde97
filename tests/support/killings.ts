import { onTestFinished, vi } from "vitest";
import { MILLISECOND } from "../../src/ground/time.ts";
import { print } from "./chaos.ts";
import { Mosquitto } from "./mosquitto.ts";
import { MORNING } from "./mqtt-boat.ts";
import { ShoreSide } from "./shore-side.ts";
import { ROOT } from "./sternfast.ts";

const FIRST_MINUTE = Math.floor(MORNING / 60_000_000);

/**
 * Kills a telling boat so many times, each time a little later after its start than anything it does
 * regularly, and lets it live the last time.
 * @returns what is ashore at the end: the occurrences, and the minutes counted from the first
 */
export async function killAgainAndAgain(times: number, seed: number) {
  const broker = await Mosquitto.start();
  const folder = Deno.makeTempDirSync({ prefix: "sternfast-kill-" });
  const clock = {
    steady: () => Math.round((performance.timeOrigin + performance.now()) * MILLISECOND),
    wall: () => Date.now() * MILLISECOND,
  };
  const shore = await ShoreSide.start(broker.url, clock);
  const ticking = setInterval(() => shore.tick(), 50);
  onTestFinished(async () => {
    clearInterval(ticking);
    await shore.stop();
    await broker.stop();
    Deno.removeSync(folder, { recursive: true });
  });
  let made = 0;
  let random = seed;
  for (let kill = 0; kill < times; kill++) {
    random = (random * 1_103_515_245 + 12_345) % 2 ** 31;
    const after = 1 + random % 40;
    const boat = start(folder, broker.url, 1_000_000);
    made = await killAfter(boat, after, (random >> 8) % 7);
  }
  const total = made + 10;
  const last = start(folder, broker.url, total);
  const { follower } = shore.boat;
  await vi.waitUntil(
    () => follower.followed.event >= total && follower.followed.sheet >= total,
    { timeout: 40_000, interval: 20 },
  ).catch(() => {});
  await last.stdout.cancel();
  await last.status;
  const occurrences = await shore.occurrences();
  const minutes = await shore.minutes(
    "battery/house/voltage",
    FIRST_MINUTE + 1,
    FIRST_MINUTE + 1e6,
  );
  print(
    `killed ${times} times: ${total} events were to come, ${occurrences.length} are ashore, ` +
      `${minutes.length} minutes`,
  );
  return { total, occurrences, minutes };
}

function start(folder: string, url: string, most: number): Deno.ChildProcess {
  return new Deno.Command(Deno.execPath(), {
    args: [
      ...["run", "-A", "--config", `${ROOT}/deno.json`, "tests/support/telling-boat.ts"],
      ...[folder, url, String(most), String(FIRST_MINUTE)],
    ],
    cwd: ROOT,
    stdout: "piped",
    stderr: "inherit",
  }).spawn();
}

/** Kills it after so many more events and a moment; the number of the last one that it has said. */
async function killAfter(
  boat: Deno.ChildProcess,
  events: number,
  moment: number,
): Promise<number> {
  let last = 0;
  let seen = 0;
  let rest = "";
  for await (const part of boat.stdout.pipeThrough(new TextDecoderStream())) {
    const lines = (rest + part).split("\n");
    rest = lines.pop() ?? "";
    for (const line of lines) last = Number(line);
    seen += lines.length;
    if (seen < events) continue;
    // Busy for a moment of random length, so that kills fall anywhere in its work.
    for (const end = performance.now() + moment; performance.now() < end;);
    try {
      boat.kill("SIGKILL");
    } catch { /* it has ended */ }
  }
  await boat.status;
  return last;
}
