import type { Boat } from "../../src/boat/boat.ts";
import { boatFrom, packsFor, type Raised, scenarioRaises } from "./pack-rehearsal.ts";

export interface Cruiser {
  readonly fuel?: "diesel" | "petrol";
  readonly house?: "lifepo4" | "agm";
  /** How the boat file knows of the forward bilge's pump. */
  readonly forwardPump?: string;
  readonly powered?: "always" | "with-helm";
}

const WIRED = "pump: { instance: 0, indicator: 5 }";

/** A boat file that ties whatever some boat of the simulator has. */
export function cruiser(
  { fuel = "diesel", house = "lifepo4", forwardPump = WIRED, powered = "always" }: Cruiser = {},
): Boat {
  const engine = fuel === "diesel"
    ? "fuel: diesel, cooling: closed, rated-speed: 2600 rpm"
    : "fuel: petrol, cooling: raw-water, rated-speed: 4400 rpm";
  const fluid = fuel === "diesel" ? "fuel" : "fuel-gasoline";
  return boatFrom(`
networks: { main: { bus: can0, powered: ${powered} } }
engines:
  port:
    { instance: 0, ${engine}, battery: house, exhaust: { temperature-instance: 0 }, engine-room: { temperature-instance: 0 } }
  starboard: { instance: 1, ${engine}, battery: start, exhaust: { temperature-instance: 1 } }
generators: { main: { instance: 2, rated-speed: 1500 rpm } }
batteries:
  house: { instance: 0, chemistry: ${house}, nominal: 12 V, capacity: 400 Ah }
  start: { instance: 1, chemistry: agm, nominal: 12 V, capacity: 100 Ah }
chargers: { shore: { instance: 0, charges: house, powered-by: shore } }
tanks:
  fuel-port: { fluid: ${fluid}, instance: 0 }
  fuel-starboard: { fluid: ${fluid}, instance: 1 }
  holding: { fluid: black-water, instance: 0 }
bilges:
  aft: { pump: { instance: 0, indicator: 3 }, float: { instance: 0, indicator: 4 } }
  forward: { ${forwardPump}, float: { instance: 0, indicator: 6 } }
detectors:
  engine-room: { instance: 1, indicator: 1, senses: petrol-vapour }
  saloon: { instance: 1, indicator: 2, senses: carbon-monoxide }
devices: { mast-receiver: { serial: A-0042, watch: always } }
mooring: { latitude: 50.4°, longitude: -7.9°, radius: 30 m }
`);
}

/** What every pack together raises in a scenario, with somebody aboard or at the mooring. */
export function cruiserRaises(
  name: string,
  where: "aboard" | "left",
  boat: Cruiser = {},
): Promise<Raised[]> {
  const rules = packsFor(boat.fuel ?? "diesel");
  return scenarioRaises(name, { boat: cruiser(boat), rules, condition: where });
}
