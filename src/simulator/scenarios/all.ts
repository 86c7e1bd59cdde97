import type { Scenario } from "../happening.ts";
import { ADDRESS_CHANGES } from "./address-changes.ts";
import { BATTERY_OPENS_UNDER_CHARGE } from "./battery-opens-under-charge.ts";
import { BATTERY_SAG } from "./battery-sag.ts";
import { BUS_GOES_DEAD } from "./bus-goes-dead.ts";
import { CHARGER_AT_REST } from "./charger-at-rest.ts";
import { CHARGER_DOES_NOT_HOLD } from "./charger-does-not-hold.ts";
import { CHARGER_OVERCHARGES } from "./charger-overcharges.ts";
import { CLOCK_STEPS } from "./clock-steps.ts";
import { CRANKING_RESETS_THE_BUS } from "./cranking-resets-the-bus.ts";
import { ENGINE_ROOM_HOT } from "./engine-room-hot.ts";
import { FAILING_BACKBONE } from "./failing-backbone.ts";
import { FIX_STRAYS } from "./fix-strays.ts";
import { FLOAT_CHATTER } from "./float-chatter.ts";
import { FLOAT_PUMP_LEAK } from "./float-pump-leak.ts";
import { FRIDGE_CYCLES } from "./fridge-cycles.ts";
import { FUEL_LEAKS } from "./fuel-leaks.ts";
import { GEARBOX_SLIPS } from "./gearbox-slips.ts";
import { GENERATOR } from "./generator.ts";
import { HARBOUR_DAY } from "./harbour-day.ts";
import { HEAT_SOAK } from "./heat-soak.ts";
import { HOT_IDLE } from "./hot-idle.ts";
import { KEY_OFF } from "./key-off.ts";
import { LEAK_GROWS } from "./leak-grows.ts";
import { LITHIUM_PLATEAU } from "./lithium-plateau.ts";
import { MANY_STARTS, STARTS_WEAKEN } from "./many-starts.ts";
import { MOORING_DRAGS } from "./mooring-drags.ts";
import { NOISY_SENDERS } from "./noisy-senders.ts";
import { NOT_CHARGING } from "./not-charging.ts";
import { OIL_LOST_UNDER_LOAD } from "./oil-lost-under-load.ts";
import { OVER_VOLTAGE } from "./over-voltage.ts";
import { PETROL_V8S } from "./petrol-v8s.ts";
import { PUMP_BESIDE_FRIDGE } from "./pump-beside-fridge.ts";
import { PUMP_CHOKED } from "./pump-choked.ts";
import { PUMP_DEAD } from "./pump-dead.ts";
import { QUIET_MOORING } from "./quiet-mooring.ts";
import { RAW_WATER_BLOCKED } from "./raw-water-blocked.ts";
import { RECEIVER_DATE_WRONG } from "./receiver-date-wrong.ts";
import { REED_SENDERS } from "./reed-senders.ts";
import { SENDER_FITTED_LATER } from "./sender-fitted-later.ts";
import { SHORE_POWER_LOST_AT_NIGHT } from "./shore-power-lost-at-night.ts";
import { SHUNT_REVERSED } from "./shunt-reversed.ts";
import { SIPHON } from "./siphon.ts";
import { SLOW_GATEWAYS } from "./slow-gateways.ts";
import { STATUS_WORDS_NOT_AVAILABLE } from "./status-words-not-available.ts";
import { STATUS_WORDS_ZERO } from "./status-words-zero.ts";
import { TWO_GATEWAYS_ONE_INSTANCE } from "./two-gateways-one-instance.ts";
import { VAPOUR_AND_CARBON_MONOXIDE } from "./vapour-and-carbon-monoxide.ts";

/** Days as an owner knows them. */
const DAYS = [HARBOUR_DAY, QUIET_MOORING];

/** What no rule may stumble over: the nastiest things that a bus has been seen to say. */
const NASTY = [
  TWO_GATEWAYS_ONE_INSTANCE,
  KEY_OFF,
  CRANKING_RESETS_THE_BUS,
  STATUS_WORDS_NOT_AVAILABLE,
  STATUS_WORDS_ZERO,
  SENDER_FITTED_LATER,
  OIL_LOST_UNDER_LOAD,
  BATTERY_OPENS_UNDER_CHARGE,
  SHORE_POWER_LOST_AT_NIGHT,
  FLOAT_PUMP_LEAK,
  RECEIVER_DATE_WRONG,
  FAILING_BACKBONE,
];

/** What else a boat can be like: one mood each. */
const MOODS = [
  BATTERY_SAG,
  LEAK_GROWS,
  SIPHON,
  FLOAT_CHATTER,
  PUMP_DEAD,
  PUMP_CHOKED,
  REED_SENDERS,
  FUEL_LEAKS,
  HOT_IDLE,
  HEAT_SOAK,
  FRIDGE_CYCLES,
  LITHIUM_PLATEAU,
  CHARGER_AT_REST,
  CHARGER_DOES_NOT_HOLD,
  CHARGER_OVERCHARGES,
  NOT_CHARGING,
  OVER_VOLTAGE,
  SHUNT_REVERSED,
  FIX_STRAYS,
  MOORING_DRAGS,
  SLOW_GATEWAYS,
  PETROL_V8S,
  VAPOUR_AND_CARBON_MONOXIDE,
  RAW_WATER_BLOCKED,
  GEARBOX_SLIPS,
  ENGINE_ROOM_HOT,
  GENERATOR,
  NOISY_SENDERS,
  ADDRESS_CHANGES,
  BUS_GOES_DEAD,
  CLOCK_STEPS,
  MANY_STARTS,
  STARTS_WEAKEN,
  PUMP_BESIDE_FRIDGE,
];

/** Every story that the simulator can tell, by the name that a person types. */
export const SCENARIOS: ReadonlyMap<string, Scenario> = new Map(
  [...DAYS, ...NASTY, ...MOODS].map((scenario) => [scenario.name, scenario]),
);
