import type { Boat } from "../../boat/boat.ts";
import { CannotOpenInput } from "../../bus/cannot-open-input.ts";
import type { BusNames } from "../../bus/bus-names.ts";
import type { FrameSource } from "../../bus/frame-source.ts";
import { openInput } from "../../bus/open-input.ts";
import type { SourceEvent } from "../../bus/source-event.ts";
import type { Clock } from "../../ground/clock.ts";
import type { Micros } from "../../ground/time.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { liveParts } from "./live-parts.ts";
import { realClock } from "../watching/real-clock.ts";
import { steadyRecording } from "./steady-source.ts";

export interface OpenSourceOptions {
  readonly buses: BusNames;
  readonly folder: string;
  /** Given: a scenario runs by this clock, live. Not given: as fast as it can, at a fixed date. */
  readonly clock?: Clock;
  /** A scenario that runs by the clock began so long ago: what lies before now comes at once. */
  readonly begunFor?: Micros;
  /** Whose networks say how fast their buses run. */
  readonly boat?: Boat;
  /** Told of what befalls a live input. */
  readonly told?: (event: SourceEvent) => void;
}

/**
 * Opens what a person named as INPUT. The simulator is loaded only for a scenario.
 * @throws {CommandFailure}
 */
export async function openSource(input: string, options: OpenSourceOptions): Promise<FrameSource> {
  const { buses, folder, clock, boat, told } = options;
  try {
    const source = await openInput(input, {
      buses,
      folder,
      live: { ...liveParts(clock ?? realClock()), told },
      bitRateOf: (name) => boat?.networks.find(({ bus }) => bus === name)?.bitRate,
      simulator: async (name, { bus }) => {
        const { openScenario } = await import("./open-scenario.ts");
        return openScenario(name, bus, options);
      },
    });
    return steadyRecording(source);
  } catch (error) {
    if (error instanceof CannotOpenInput) throw new CommandFailure(error.message);
    throw error;
  }
}
