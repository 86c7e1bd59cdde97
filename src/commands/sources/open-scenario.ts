import type { BusNames } from "../../bus/bus-names.ts";
import type { FrameSource } from "../../bus/frame-source.ts";
import type { Clock } from "../../ground/clock.ts";
import { nearestName } from "../../ground/spelling.ts";
import { type Micros, MILLISECOND, parseIsoTime } from "../../ground/time.ts";
import { ALL_ROWS } from "../../nmea2000/rows/all.ts";
import { SCENARIOS } from "../../simulator/scenarios/all.ts";
import { Simulator } from "../../simulator/simulator.ts";
import { type Pace, SimulatorSource } from "../../simulator/simulator-source.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { RowEncoder } from "./row-encoder.ts";

export interface ScenarioOptions {
  readonly buses: BusNames;
  /** Given: it runs by this clock. Not given: as fast as it can, at a fixed date. */
  readonly clock?: Clock;
  /** By the clock it began so long ago: what lies before now comes at once. */
  readonly begunFor?: Micros;
}

/** When a scenario starts that nobody watches live: every run then makes the same bytes. */
const FIXED_START = parseIsoTime("2026-06-14T10:00:00Z") ?? 0;

/**
 * A scenario of the simulator as a source; here the simulator is given its encoder and its pace.
 * @throws {CommandFailure} with the nearest name
 */
export function openScenario(
  name: string,
  bus: string | undefined,
  { buses, clock, begunFor = 0 }: ScenarioOptions,
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
