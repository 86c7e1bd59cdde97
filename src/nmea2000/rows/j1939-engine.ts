import { type Micros, MILLISECOND, SECOND } from "../../ground/time.ts";
import type { Field, PgnRow } from "../row.ts";
import { inOrder, reserved, unsigned, within } from "./fields.ts";
import { DIGITAL_ANNEX } from "./sources.ts";
import {
  aboveEndOfScale,
  airCelsius,
  atmospheric,
  coarseCelsius,
  gasCelsius,
  gaugePressure,
  oilCelsius,
  turning,
} from "./plausible.ts";

/** A temperature in one byte. */
const coarse = (name: string) => ({ ...unsigned(name, 8, 1, "Cel"), offset: -40 }) as const;
/** A temperature in two bytes. */
const fine = (name: string) => ({ ...unsigned(name, 16, 0.03125, "Cel"), offset: -273 }) as const;
const torque = (name: string) =>
  aboveEndOfScale({ ...unsigned(name, 8, 1, "%"), offset: -125 } as const);
const share = (name: string) => unsigned(name, 8, 0.4, "%");
const pressure = (name: string, kilopascal: number) => unsigned(name, 8, kilopascal * 1000, "Pa");

function row(
  pgn: number,
  title: string,
  priority: number,
  period: Micros | null,
  fields: readonly Field[],
): PgnRow {
  const common = { transport: "single", codes: "j1939", length: 8, source: DIGITAL_ANNEX } as const;
  return { ...common, pgn, title, priority, period, fields };
}

/** What engines that speak SAE J1939-71 send. */
export const J1939_ENGINE_ROWS: readonly PgnRow[] = [
  row(
    61443,
    "electronic engine controller 2",
    3,
    50 * MILLISECOND,
    inOrder(
      reserved(8),
      share("throttle"),
      unsigned("load", 8, 1, "%"),
      reserved(40, "reserved-2"),
    ),
  ),
  // Sent faster the faster the engine turns, at least this often.
  row(
    61444,
    "electronic engine controller 1",
    3,
    100 * MILLISECOND,
    inOrder(
      reserved(8),
      torque("torque-demand"),
      torque("torque"),
      turning(unsigned("speed", 16, 0.125, "1/min")),
      reserved(24, "reserved-2"),
    ),
  ),
  row(
    65253,
    "engine hours, revolutions",
    6,
    null,
    inOrder(unsigned("hours", 32, 0.05, "h"), unsigned("revolutions", 32, 1000, "1")),
  ),
  row(
    65262,
    "engine temperature 1",
    6,
    SECOND,
    inOrder(
      coarseCelsius(coarse("coolant-temperature")),
      coarseCelsius(coarse("fuel-temperature")),
      oilCelsius(fine("oil-temperature")),
      oilCelsius(fine("turbocharger-oil-temperature")),
      coarseCelsius(coarse("intercooler-temperature")),
      share("intercooler-thermostat"),
    ),
  ),
  row(
    65263,
    "engine fluid level and pressure 1",
    6,
    500 * MILLISECOND,
    inOrder(
      pressure("fuel-pressure", 4),
      pressure("extended-crankcase-pressure", 0.05),
      share("oil-level"),
      pressure("oil-pressure", 4),
      gaugePressure({ ...unsigned("crankcase-pressure", 16, 1000 / 128, "Pa"), offset: -250_000 }),
      pressure("coolant-pressure", 2),
      share("coolant-level"),
    ),
  ),
  row(
    65266,
    "fuel economy",
    6,
    100 * MILLISECOND,
    inOrder(
      unsigned("fuel-rate", 16, 0.05, "L/h"),
      reserved(32),
      share("throttle"),
      reserved(8, "reserved-2"),
    ),
  ),
  row(
    65269,
    "ambient conditions",
    6,
    SECOND,
    inOrder(
      atmospheric(pressure("atmospheric-pressure", 0.5)),
      airCelsius(fine("cab-temperature")),
      airCelsius(fine("ambient-temperature")),
      coarseCelsius(coarse("air-inlet-temperature")),
      airCelsius(fine("road-temperature")),
    ),
  ),
  row(
    65270,
    "inlet and exhaust conditions 1",
    6,
    500 * MILLISECOND,
    inOrder(
      reserved(8),
      pressure("boost-pressure", 2),
      coarseCelsius(coarse("manifold-temperature")),
      pressure("air-inlet-pressure", 2),
      pressure("air-filter-pressure", 0.05),
      gasCelsius(fine("exhaust-temperature")),
      pressure("coolant-filter-pressure", 0.5),
    ),
  ),
  row(
    65271,
    "vehicle electrical power 1",
    6,
    SECOND,
    inOrder(
      aboveEndOfScale({ ...unsigned("battery-current", 8, 1, "A"), offset: -125 }),
      unsigned("alternator-current", 8, 1, "A"),
      unsigned("alternator-voltage", 16, 0.05, "V"),
      // A controller lives on it: what speaks and reads 0 has no wire there.
      within(0.05, undefined, unsigned("battery-voltage", 16, 0.05, "V")),
      unsigned("key-switch-voltage", 16, 0.05, "V"),
    ),
  ),
  row(
    65272,
    "transmission fluids 1",
    6,
    SECOND,
    inOrder(
      pressure("clutch-pressure", 16),
      share("oil-level"),
      pressure("filter-pressure", 2),
      pressure("oil-pressure", 16),
      oilCelsius(fine("oil-temperature")),
      reserved(16),
    ),
  ),
  row(
    65276,
    "dash display 1",
    6,
    SECOND,
    inOrder(
      share("washer-level"),
      share("fuel-level-1"),
      pressure("fuel-filter-pressure", 2),
      pressure("oil-filter-pressure", 0.5),
      airCelsius(fine("cargo-temperature")),
      share("fuel-level-2"),
      reserved(8),
    ),
  ),
];
