import type { AlarmStatus, RoomLeft } from "../../src/alarms/change.ts";
import type { Priority } from "../../src/alarms/words.ts";
import { Quality, Reason } from "../../src/boat/quality.ts";
import { SignalTable } from "../../src/boat/signal-table.ts";
import { type Micros, MINUTE, SECOND } from "../../src/ground/time.ts";
import type { ViewSources } from "../../src/outputs/page/build-view.ts";
import type { WhoWasTold } from "../../src/outputs/page/phones/who-was-told.ts";
import type { UnitCode } from "../../src/units/codes.ts";

/** When the made-up afternoon begins; steady time and wall time are the same in it. */
export const AFTERNOON: Micros = Date.UTC(2026, 5, 14, 13, 37, 52) * 1000;

const PSI = 6894.757293168362;
const fahrenheit = (degrees: number) => (degrees - 32) / 1.8;

/** Who was told of the oil pressure, and who could not be. */
const TOLD: WhoWasTold = {
  people: ["Robin", "Kim"],
  isAshore: false,
  deliveries: [
    {
      id: "a",
      person: "Robin",
      way: "push",
      about: "Hazel Comfort, ALARM: port oil pressure 11 psi, limit 18, since 14:31.",
      state: "accepted",
      since: AFTERNOON - 6 * MINUTE,
      why: "",
    },
    {
      id: "b",
      person: "Kim",
      way: "mail",
      about: "Hazel Comfort, ALARM: port oil pressure 11 psi, limit 18, since 14:31.",
      state: "failed",
      since: AFTERNOON - 5 * MINUTE,
      why: "mail.example does not know that mailbox",
    },
  ],
};

/** A made-up twin-diesel cruiser with signals, limits and alarms, to be changed by a test. */
export class HazelComfort {
  readonly name = "hazel-comfort";
  readonly table = new SignalTable();
  readonly rooms: RoomLeft[] = [];
  alarms: AlarmStatus[] = [];
  now = AFTERNOON;
  lastFrame = AFTERNOON;

  constructor() {
    this.#engine("port", 2410, 11.2, 187);
    this.#engine("starboard", 2395, 46.4, 183);
    this.#power();
    this.#hull();
    this.#passage();
    this.#limits();
  }

  /** Gives a signal a value, heard at `now`. */
  hear(name: string, value: number): void {
    const signal = this.table.find(name);
    this.table.carrierHeard[this.table.carriers[signal]] = this.now;
    this.table.set(signal, value, Quality.good, Reason.none, this.now);
  }

  sources(): ViewSources {
    return {
      boat: this.name,
      timeZone: "Europe/London",
      demo: true,
      owners: { pressure: "psi", temperature: "°F", speed: "kn" },
      table: this.table,
      alarms: this.alarms,
      rooms: this.rooms,
      condition: "aboard",
      told: TOLD,
      watch: {
        onWatch: 34,
        unjudged: [
          {
            title: "Fuel rates differ",
            about: "port and starboard engines",
            reason: "sent as not available",
          },
          { title: "Exhaust too hot", about: "port engine", reason: "never heard" },
          { title: "Exhaust too hot", about: "starboard engine", reason: "never heard" },
          { title: "Petrol vapour", about: "engine room detector", reason: "never heard" },
        ],
      },
      now: this.now,
      lastFrame: this.lastFrame,
      wallOf: (steady) => steady,
    };
  }

  #engine(name: string, speed: number, oil: number, coolant: number): void {
    const engine = `engine/${name}`;
    this.#signal(`${engine}/speed`, "1/min", speed);
    this.#words(`${engine}/condition`, "running");
    this.#signal(`${engine}/oil-pressure`, "Pa", oil * PSI, { span: 400_000 });
    this.#signal(`${engine}/coolant-temperature`, "Cel", fahrenheit(coolant), { span: 60 });
    this.#signal(`${engine}/alternator-voltage`, "V", 14.12, { span: 2 });
    if (name === "port") this.#signal(`${engine}/fuel-rate`, "L/h", 41.3);
    else this.#missing(`${engine}/fuel-rate`, "L/h", Reason.notAvailable, 1);
    this.#signal(`${engine}/hours`, "h", name === "port" ? 1843.4 : 1851.1);
    const bits = ["check-engine", "over-temperature", "low-oil-pressure", "low-coolant-level"];
    for (const bit of bits) {
      const set = name === "port" && bit === "low-oil-pressure";
      this.#signal(`${engine}/status/${bit}`, "1", set ? 1 : 0);
    }
  }

  #power(): void {
    this.#signal("battery/house/voltage", "V", 13.31, { span: 2, age: 1 });
    this.#signal("battery/house/current", "A", -18.4, { age: 1 });
    this.#signal("battery/house/state-of-charge", "%", 76, { span: 100, age: 1 });
    this.#missing("battery/house/temperature", "Cel", Reason.notHeard, 312);
    this.#signal("battery/start/voltage", "V", 12.78, { span: 2, age: 1 });
    this.#words("charger/shore/operating-state", "not-charging");
    this.#words("charger/shore/charge-mode", "stand-alone");
  }

  #hull(): void {
    this.#signal("tank/fuel-port/level", "%", 62, { span: 100, age: 2 });
    this.#signal("tank/fuel-starboard/level", "%", 58, { span: 100, age: 2 });
    this.#signal("tank/fresh-water/level", "%", 81, { age: 2 });
    this.#signal("bilge/aft/pump", "1", 0, { age: 3 });
    this.#signal("bilge/aft/float", "1", 0, { age: 3 });
    this.#signal("bilge/forward/pump", "1", 0, { age: 3 });
  }

  #passage(): void {
    this.#signal("position/latitude", "deg", 50.34871);
    this.#signal("position/longitude", "deg", -4.15093);
    this.#signal("course/over-ground", "deg", 214);
    this.#signal("speed/over-ground", "m/s", 8.7);
    this.#signal("sounder/main/depth", "m", 22.6, { span: 20 });
    this.#signal("wind/apparent-speed", "m/s", 11.8);
    this.#signal("wind/apparent-angle", "deg", 31);
    const doubtful = this.#signal("sea/temperature", "Cel", 14.2, { age: 4 });
    this.table.set(doubtful, 14.2, Quality.uncertain, Reason.twoSenders, this.now);
  }

  #limits(): void {
    const psi = (value: number) => value * PSI;
    this.#limit("engine/port/oil-pressure", "low", psi(18), "alarm");
    this.#limit("engine/starboard/oil-pressure", "low", psi(18), "alarm");
    for (const engine of ["port", "starboard"]) {
      this.#limit(`engine/${engine}/coolant-temperature`, "high", 95, "warning");
      this.#limit(`engine/${engine}/coolant-temperature`, "high", 100, "alarm");
      this.#limit(`engine/${engine}/alternator-voltage`, "high", 15.8, "alarm");
      this.#limit(`engine/${engine}/alternator-voltage`, "low", 12.9, "warning");
    }
    this.#limit("battery/house/voltage", "low", 12.8, "warning");
    this.#limit("battery/house/voltage", "low", 12.0, "alarm");
    this.#limit("battery/house/voltage", "high", 14.8, "alarm");
    this.#limit("battery/house/state-of-charge", "low", 20, "warning");
    this.#limit("battery/start/voltage", "low", 12.1, "alarm");
    this.#limit("tank/fuel-port/level", "low", 33, "caution");
    this.#limit("tank/fuel-starboard/level", "low", 33, "caution");
    this.#limit("sounder/main/depth", "low", 2.5, "warning");
    this.rooms.push({
      ...this.rooms[0],
      tag: "house-battery-hot",
      kind: "reading",
      signal: "battery/house/temperature",
      unit: "Cel",
      side: "high",
      value: null,
      room: null,
      reason: "not judged: nothing heard for 5 min",
    });
  }

  #limit(signal: string, side: "low" | "high", setpoint: number, priority: Priority): void {
    const number = this.table.find(signal);
    const { span, unit, subject } = this.table.facts[number];
    const value = this.table.values[number];
    const distance = side === "low" ? value - setpoint : setpoint - value;
    this.rooms.push({
      tag: `${signal.replaceAll("/", "-")}-${side}`,
      subject,
      title: "",
      priority,
      signal,
      kind: "reading",
      value,
      setpoint,
      unit,
      side,
      room: distance / (span ?? NaN),
      reason: "",
    });
  }

  #signal(
    name: string,
    unit: UnitCode,
    value: number,
    { span = null, age = 0 }: { span?: number | null; age?: number } = {},
  ): number {
    return this.#intern(name, unit, value, age, span, null);
  }

  #words(name: string, word: string): void {
    this.#intern(name, "", 0, 0, null, new Map([[0, word]]));
  }

  #missing(name: string, unit: UnitCode, reason: Reason, age: number): void {
    const signal = this.#intern(name, unit, NaN, age, null, null);
    this.table.set(signal, NaN, Quality.bad, reason, this.now);
  }

  #intern(
    name: string,
    unit: UnitCode,
    value: number,
    age: number,
    span: number | null,
    words: ReadonlyMap<number, string> | null,
  ): number {
    const [group, ...rest] = name.split("/");
    const subject = ["position", "course", "speed", "wind", "sea"].includes(group) ? "" : rest[0];
    const quantity = rest.slice(subject === "" ? 0 : 1).join("/");
    const facts = { name, group, subject, quantity, unit, decimals: 2, words, span };
    const signal = this.table.intern({ ...facts, derived: false });
    const carrier = this.table.addCarrier();
    this.table.carriers[signal] = carrier;
    this.table.carrierHeard[carrier] = this.now - age * SECOND;
    this.table.set(signal, value, Quality.good, Reason.none, this.now);
    return signal;
  }
}

/** The alarm of the picture: oil pressure of the port engine fell under load. */
export const OIL_PRESSURE_LOW: AlarmStatus = {
  tag: "oil-pressure-low-under-load",
  subject: "port",
  title: "Low oil pressure under load",
  state: "unacknowledged",
  hold: "none",
  occurrence: 3,
  priority: "alarm",
  signal: "engine/port/oil-pressure",
  value: 11.2 * PSI,
  unit: "Pa",
  setpoint: 18 * PSI,
  raised: AFTERNOON - 6 * MINUTE,
  changed: AFTERNOON - 6 * MINUTE,
  message: "Port oil pressure 11 psi at 2,410 rpm, limit 18 psi.",
  consequence: "The bearings run dry within a minute or two.",
  response: {
    aboard: "Bring that engine to idle, look at the helm gauge, stop it if both agree and it is " +
      "safe to lose it.",
    ashore: "Someone is running your boat, or a sender has failed. Call the number on file.",
  },
};

/** An alarm whose condition has gone before anybody answered. */
export const FORWARD_BILGE_OVER: AlarmStatus = {
  ...OIL_PRESSURE_LOW,
  tag: "bilge-pump-runs-long",
  subject: "forward",
  title: "Bilge pump runs long",
  state: "returned-unacknowledged",
  occurrence: 1,
  priority: "warning",
  signal: "bilge/forward/pump",
  value: 0,
  unit: "1",
  setpoint: null,
  raised: AFTERNOON - 52 * MINUTE,
  changed: AFTERNOON - 47 * MINUTE,
  message: "The forward pump ran for 3 min without a break.",
  consequence: "Water comes in faster than usual, or the float hangs.",
  response: {
    aboard: "Look into the forward bilge and at the shaft seal and hoses.",
    ashore: "Ask somebody near to look. The pump drains the battery.",
  },
};

/** An information that asks for no answer. */
export const FUEL_CAUTION: AlarmStatus = {
  ...OIL_PRESSURE_LOW,
  tag: "fuel-rate-differs",
  subject: "starboard",
  title: "Fuel rate is not sent",
  state: "acknowledged",
  occurrence: 1,
  priority: "caution",
  signal: "engine/starboard/fuel-rate",
  value: null,
  unit: "L/h",
  setpoint: null,
  raised: AFTERNOON - 100 * MINUTE,
  changed: AFTERNOON - 100 * MINUTE,
  message: "Starboard fuel rate: sent as not available. The device is talking; look at its sensor.",
  consequence: "",
  response: { aboard: "", ashore: "" },
};
