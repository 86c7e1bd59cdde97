import { MILLISECOND } from "../../ground/time.ts";
import type { Alternator } from "../alternator.ts";
import type { Cruiser } from "../cruiser.ts";
import { Device } from "../device.ts";
import type { DeviceFacts } from "../sending.ts";
import type { Engine } from "../engine.ts";
import type { EngineName } from "../names.ts";
import type { Random } from "../random.ts";
import { kelvin, reading } from "../sender.ts";

const INSTANCE: Readonly<Record<EngineName, number>> = { port: 0, starboard: 1, generator: 2 };
const CHARGING_AMPERES = 5;

/**
 * Turns an engine's senders into messages. The starboard engine has no fuel flow sender: its fuel
 * rate is always "not available".
 */
export function engineGateway(
  boat: Cruiser,
  random: Random,
  name: EngineName,
  facts: DeviceFacts,
): Device {
  const engine = boat.engines[name];
  const alternator = name === "generator" ? undefined : boat.alternators[name];
  const charged = name === "port" ? boat.house : boat.startBattery;
  const key = { instance: INSTANCE[name] };
  return new Device(facts, [
    {
      pgn: 127488,
      period: 100 * MILLISECOND,
      key,
      measured: () => ({
        speed: atRest(engine.speed, reading(engine.speed + random.noise(2), 1)),
      }),
    },
    {
      pgn: 127489,
      period: 500 * MILLISECOND,
      key,
      measured: () => ({
        "oil-pressure": oilPressure(engine, random),
        "oil-temperature": reading(kelvin(engine.oil.temperature), 0.5),
        "coolant-temperature": reading(kelvin(engine.cooling.coolant) + random.noise(0.1), 0.25),
        "alternator-voltage": reading(charged.volts + random.noise(0.02), 0.01),
        "fuel-rate": name !== "starboard" ? reading(engine.fuelRate, 0.1) : null,
        hours: Math.floor(engine.runTime),
        "status-1": engine.keyOn ? lamps(engine, alternator) : [],
        "status-2": [],
        load: Math.round(100 * engine.load),
        torque: Math.round(100 * engine.load),
      }),
    },
  ]);
}

function oilPressure(engine: Engine, random: Random): number {
  const { pressure } = engine.oil;
  return atRest(pressure, reading(pressure + random.noise(2_000), 1_000));
}

/** A sender does not tremble at rest, and never says less than nothing. */
function atRest(value: number, read: number): number {
  return value === 0 ? 0 : Math.max(0, read);
}

/** The engine's own switches and lamps; a generator has none for its charge. */
function lamps(engine: Engine, alternator: Alternator | undefined): string[] {
  const lit: string[] = [];
  if (engine.oil.pressure < engine.make.lamps.lowOilPressure) lit.push("low-oil-pressure");
  if (engine.cooling.coolant > engine.make.lamps.overTemperature) lit.push("over-temperature");
  if (alternator !== undefined && alternator.mostAmperes < CHARGING_AMPERES) {
    lit.push("charge-indicator");
  }
  return lit;
}
