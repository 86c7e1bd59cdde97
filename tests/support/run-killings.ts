import { onTestFinished, vi } from "vitest";
import { DAY, MILLISECOND, SECOND } from "../../src/ground/time.ts";
import { minuteOf } from "../../src/store/history-plan.ts";
import {
  BATTERY_BOAT,
  BATTERY_PERIOD,
  BATTERY_VOLTAGE,
  batteryLines,
  saidLow,
} from "./battery-story.ts";
import { type Kept, keptIn, lastNumbersIn, untilReceived } from "./both-sides.ts";
import { print } from "./chaos.ts";
import { Mosquitto, Reader } from "./mosquitto.ts";
import { ownFolder } from "./own-folder.ts";
import { type Running, start } from "./sternfast.ts";
import { firstTold, type ToldEvent } from "./told-events.ts";

export interface AfterKillings {
  readonly aboard: Kept;
  readonly ashore: Kept;
  /** Each once, in the order of coming, as a reader that knows nothing of us had them. */
  readonly told: readonly ToldEvent[];
  /** Minutes that passed on the bus, and those of them in which the program was killed. */
  readonly passed: readonly number[];
  readonly killed: ReadonlySet<number>;
}

const BASE = "sternfast/dora/";
const EVENT = `${BASE}event`;
/** Yesterday: what is older than ninety days is not kept. */
const BEGINS = Math.floor(Date.now() * MILLISECOND / DAY) * DAY - DAY;
const FIRST_MINUTE = minuteOf(BEGINS);

/**
 * `sternfast run` on a bus that does not stop for it, killed so many times at random moments: while
 * it opens, and while it works. `sternfast ashore` follows, both through a real mosquitto. At the end
 * it lives until the shore has everything.
 */
export async function killRunAgainAndAgain(times: number, seed: number): Promise<AfterKillings> {
  const broker = await Mosquitto.start();
  onTestFinished(() => broker.stop());
  const folder = ownFolder({ ...BATTERY_BOAT });
  const reader = await Reader.start(broker.port, `${BASE}#`);
  onTestFinished(() => reader.stop());
  const ashore = await start(["ashore", "dora", "--broker", broker.url, "--state", "home"], {
    folder,
  });
  await ashore.until(/Connected to/);

  const random = randomNumbers(seed);
  const bus = new RunningBus(folder, broker.url);
  const killed = new Set<number>();
  for (let kill = 0; kill < times; kill++) {
    await bus.board();
    if (kill % 4 === 3) {
      busyFor(random(900));
    } else {
      await bus.work(1 + random(40));
      await bus.speak();
      // History follows everything else, and is in the middle of going out then.
      if (kill % 4 === 2) await untilSaysConnected(reader);
      busyFor(random(8));
    }
    for (const minute of await bus.kill()) killed.add(minute);
  }
  await bus.board();
  await bus.work(30);
  await untilSaysConnected(reader);
  await bus.leave();
  const last = await lastNumbersIn(`${folder}/state`);
  // It comes back, for whatever the shore still asks for.
  await bus.board();
  await untilReceived(reader, BASE, last);
  await bus.leave();
  ashore.interrupt();
  await ashore.finished();

  const keptOf = (state: string) =>
    keptIn(`${folder}/${state}`, BATTERY_VOLTAGE, FIRST_MINUTE, FIRST_MINUTE + 100_000);
  const aboard = await keptOf("state");
  const home = await keptOf("home/boats/dora");
  const told = firstTold(reader, EVENT);
  print(
    `run killed ${times} times: ${aboard.events.length} events and ${aboard.minutes.length} of ` +
      `${bus.passed.length} minutes aboard; ${home.events.length} events and ` +
      `${home.minutes.length} minutes ashore; ${reader.on(EVENT).length} told, ` +
      `${told.length} of them new`,
  );
  return { aboard, ashore: home, told, passed: bus.passed, killed };
}

/** The bus, whose time goes on whether anybody listens or not, and the program that listens. */
class RunningBus {
  #seconds = 0;
  #running: Running | undefined;

  constructor(readonly folder: string, readonly broker: string) {}

  /** Whole minutes that were on the bus. */
  get passed(): number[] {
    return Array.from({ length: Math.floor(this.#seconds / 60) }, (_, i) => FIRST_MINUTE + i);
  }

  async board(): Promise<void> {
    const files = ["--boat", "boat.yaml", "--rules", "rules.yaml", "--state", "state"];
    const typed = ["run", "-", "--json", "--broker", this.broker, ...files];
    this.#running = await start(typed, { folder: this.folder, input: "piped" });
  }

  /** The battery gets low so many times more; each time the program has said so. */
  async work(times: number): Promise<void> {
    for (let time = 0; time < times; time++) {
      const low = BEGINS + (this.#seconds + BATTERY_PERIOD / 2) * SECOND;
      await this.speak();
      await this.#running?.until(saidLow(low));
    }
  }

  /** The bus says what it says in one period; nobody waits for the program. */
  async speak(): Promise<void> {
    const lines = batteryLines(BEGINS, this.#seconds, BATTERY_PERIOD);
    this.#seconds += BATTERY_PERIOD;
    await this.#running?.type(lines);
  }

  /** @returns the minute that was open, and the one whose record may have been on its way */
  async kill(): Promise<number[]> {
    this.#running?.interrupt("SIGKILL");
    await this.#running?.finished();
    const open = minuteOf(BEGINS + this.#seconds * SECOND);
    return [open - 1, open];
  }

  async leave(): Promise<void> {
    this.#running?.interrupt();
    await this.#running?.finished();
  }
}

/** Waits until a boat that has just come back has said all but its history. */
async function untilSaysConnected(reader: Reader): Promise<void> {
  const isConnected = () => reader.on(`${BASE}link`).at(-1)?.payload.includes('"connected"');
  await vi.waitUntil(isConnected, { timeout: 30_000, interval: 1 });
}

/** Kills then fall anywhere in the program's work, not where it had just said something. */
function busyFor(milliseconds: number): void {
  for (const end = performance.now() + milliseconds; performance.now() < end;);
}

/** Whole numbers below a bound, the same for the same seed (ANSI C's own generator). */
function randomNumbers(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 1_103_515_245 + 12_345) % 2 ** 31;
    return (state >> 8) % below;
  };
}
