import { expect, onTestFinished, test } from "vitest";
import { DAY, parseIsoTime, SECOND } from "../../src/ground/time.ts";
import { minuteOf } from "../../src/store/history-plan.ts";
import { BATTERY_BOAT, BATTERY_VOLTAGE, isLowByTurns } from "../support/battery-story.ts";
import { keptIn } from "../support/both-sides.ts";
import { Mosquitto, Reader } from "../support/mosquitto.ts";
import { needs } from "../support/needs.ts";
import { ownFolder } from "../support/own-folder.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";
import { start } from "../support/sternfast.ts";

/** The true time when the bus begins to speak, and the computer's: five minutes after 1970 began. */
const TRUE = parseIsoTime("2026-11-24T10:00:00Z") ?? NaN;
const STAMPED = 300 * SECOND;
const ROLLOVER = 1024 * 7 * DAY;
/** The receiver has told the truth for a minute by then. */
const BELIEVED = 130;
/** The last thing that is said is that the battery is low. */
const END = 236;

const MOORED = `${BATTERY_BOAT["boat.yaml"]}
mooring: { latitude: 50.4°, longitude: -7.9°, radius: 30 m }
`;
const MOVED = `${BATTERY_BOAT["rules.yaml"]}
  - tag: moved
    title: Boat has moved
    moved: { fix-error: 15 m, deadband: 10 m }
    priority: alarm
`;

type Fix = { readonly latitude: number | null; readonly longitude: number | null };
const MOORING: Fix = { latitude: 50.4, longitude: -7.9 };
const NOTHING: Fix = { latitude: null, longitude: null };
const ZERO: Fix = { latitude: 0, longitude: 0 };

/** A date 1,024 weeks old, then nothing, then 0°, 0°, then the truth; a battery beside it. */
function lines(from: number, to: number): string {
  const story = new SpokenRecording(STAMPED);
  for (let second = from; second < to; second++) {
    const isOld = second < 40;
    const told = TRUE + second * SECOND - (isOld ? ROLLOVER : 0);
    if (isOld || second >= 60) {
      const clock = { date: Math.floor(told / DAY), time: (told % DAY) / SECOND };
      story.say(second, 126992, clock, 9);
    }
    const fix = isOld || second >= 80 ? MOORING : second < 60 ? NOTHING : ZERO;
    story.say(second + 0.1, 129025, { ...fix }, 9);
    const voltage = isLowByTurns(second) ? 11.5 : 12.8;
    story.say(second + 0.2, 127508, { instance: 0, voltage });
  }
  return story.text;
}

needs("faketime")("situation 11, the whole program on a computer that began in 1970", () => {
  test("takes the time of the bus, names its minutes truly, and no boat has moved", async () => {
    const broker = await Mosquitto.start();
    onTestFinished(() => broker.stop());
    const reader = await Reader.start(broker.port, "sternfast/dora/#");
    onTestFinished(() => reader.stop());
    const folder = ownFolder({ "boat.yaml": MOORED, "rules.yaml": MOVED });
    const files = ["--boat", "boat.yaml", "--rules", "rules.yaml", "--state", "state"];
    const running = await start(["run", "-", "--json", "--broker", broker.url, ...files], {
      folder,
      input: "piped",
      env: fakeTime("1970-01-01 00:09:00"),
    });
    await running.type(lines(0, BELIEVED));
    await running.until(/taken from the bus/);
    await running.type(lines(BELIEVED, END));
    expect(await running.until(/"time":"2026-11-24T10:03:55/)).not.toContain('"moved"');
    running.interrupt();
    expect((await running.finished()).code).toBe(130);

    const first = minuteOf(TRUE);
    const kept = await keptIn(`${folder}/state`, BATTERY_VOLTAGE, 0, first + 100);
    expect(kept.minutes.map(({ minute }) => minute - first)).toEqual([0, 1, 2, 3]);
    // The first is known from the moment when a rule named the signal.
    expect(kept.minutes.slice(1).map(({ count }) => count)).toEqual([60, 60, END - 180]);
    // Every raising and every return, each once: a step of the clock is no step of steady time.
    expect(kept.events.map(({ change }) => change.occurrence)).toEqual(
      Array.from({ length: Math.floor(END / 5) }, (_, i) => Math.floor(i / 2) + 1),
    );
    const packs = reader.on("sternfast/dora/history/pack");
    expect(packs.length).toBeGreaterThan(0);
    for (const { payload } of packs) expect(payload).toContain(`"bt":${TRUE / SECOND}`);
  });
});

/** A library between the program and the system's clock (faketime 0.9). */
function fakeTime(begins: string): Record<string, string> {
  const { stdout } = new Deno.Command("faketime", {
    args: ["-f", `@${begins}`, "sh", "-c", "echo $LD_PRELOAD"],
  }).outputSync();
  return { LD_PRELOAD: new TextDecoder().decode(stdout).trim(), FAKETIME: `@${begins}` };
}
