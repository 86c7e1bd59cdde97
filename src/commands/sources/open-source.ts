import type { Boat } from "../../boat/boat.ts";
import { CannotOpenInput } from "../../bus/cannot-open-input.ts";
import type { BusNames } from "../../bus/bus-names.ts";
import type { FrameSource } from "../../bus/frame-source.ts";
import { openInput } from "../../bus/open-input.ts";
import type { SourceEvent } from "../../bus/source-event.ts";
import type { Clock } from "../../ground/clock.ts";
import { nearestName } from "../../ground/spelling.ts";
import { type Micros, MILLISECOND, parseIsoTime } from "../../ground/time.ts";
import { ALL_ROWS } from "../../nmea2000/rows/all.ts";
import { SCENARIOS } from "../../simulator/scenarios/all.ts";
import { Simulator } from "../../simulator/simulator.ts";
import { type Pace, SimulatorSource } from "../../simulator/simulator-source.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { liveParts } from "./live-parts.ts";
import { realClock } from "../watching/real-clock.ts";
import { RowEncoder } from "./row-encoder.ts";
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

/** When a scenario starts that nobody watches live: every run then makes the same bytes. */
const FIXED_START = parseIsoTime("2026-06-14T10:00:00Z") ?? 0;

/**
 * Opens what a person named as INPUT; here the simulator is given its encoder and its pace.
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
      simulator: (name, { bus }) => Promise.resolve(openScenario(name, bus, options)),
    });
    return steadyRecording(source);
  } catch (error) {
    if (error instanceof CannotOpenInput) throw new CommandFailure(error.message);
    throw error;
  }
}

function openScenario(
  name: string,
  bus: string | undefined,
  { buses, clock, begunFor = 0 }: OpenSourceOptions,
): FrameSource {
  const scenario = SCENARIOS.get(name);
  if (scenario === undefined) {
    const names = [...SCENARIOS.keys()];
    const nearest = nearestName(name, names);
    const meant = nearest === undefined
      ? `, expected one of ${names.join(", ")}.`
      : `, which is no scenario; did you mean "${nearest}"?`;
    throw new CommandFailure(`simulator: found "${name}"${meant}`);
  }
  const simulator = new Simulator({
    scenario,
    encoder: new RowEncoder(ALL_ROWS),
    start: clock === undefined ? FIXED_START : clock.steady() - begunFor,
    bus: buses.give(bus ?? "can0"),
  });
  return new SimulatorSource(simulator, clock === undefined ? undefined : paceOf(clock));
}

function paceOf(clock: Clock): Pace {
  return async (time) => {
    const wait = (time - clock.steady()) / MILLISECOND;
    if (wait > 0) await new Promise((resolve) => setTimeout(resolve, wait));
  };
}
