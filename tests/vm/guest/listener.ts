import { BusNames } from "../../../src/bus/bus-names.ts";
import type { FrameSource } from "../../../src/bus/frame-source.ts";
import { openInput } from "../../../src/bus/open-input.ts";
import { CandumpWriter } from "../../../src/bus/recordings/candump-writer.ts";
import type { SourceEvent } from "../../../src/bus/source-event.ts";
import { liveParts } from "../../../src/commands/sources/live-parts.ts";
import { realClock } from "../../../src/commands/watching/real-clock.ts";
import { MILLISECOND } from "../../../src/ground/time.ts";
import { until } from "./shell.ts";

/** Listens to an input of the machine and keeps what comes, as candump lines. */
export class Listener {
  readonly events: SourceEvent[] = [];
  /** Resolves when the source has ended. */
  readonly ended: Promise<void>;
  /** While true nothing more is asked for: a consumer that is held up. */
  held = false;
  readonly #parts: string[] = [];

  private constructor(readonly source: FrameSource, buses: BusNames, events: SourceEvent[]) {
    this.events = events;
    const writer = new CandumpWriter(buses);
    const text = new TextDecoder();
    this.ended = (async () => {
      for await (const batch of source.batches()) {
        this.#parts.push(text.decode(writer.lines(batch)));
        while (this.held) await new Promise((resolve) => setTimeout(resolve, 20));
      }
    })();
  }

  /** @param input such as "socketcan:vcan0" */
  static async open(input: string): Promise<Listener> {
    const buses = new BusNames();
    const events: SourceEvent[] = [];
    const live = {
      ...liveParts(realClock()),
      delay: () => 200 * MILLISECOND,
      told: (event: SourceEvent) => void events.push(event),
    };
    const listener = new Listener(
      await openInput(input, { buses, folder: "/", live }),
      buses,
      events,
    );
    // A refusal is an event, too: either way the source has tried.
    await until("the source tries", () => events.length > 0);
    return listener;
  }

  get lines(): string {
    return this.#parts.join("");
  }

  get frames(): number {
    return this.source.counts.frames;
  }

  /** The kinds of events so far. */
  get kinds(): string[] {
    return this.events.map(({ kind }) => kind);
  }

  async heard(frames: number): Promise<void> {
    await until(`${frames} frames (${this.frames} came)`, () => this.frames >= frames);
  }

  async stop(): Promise<void> {
    this.source.stop();
    await this.ended;
  }
}
