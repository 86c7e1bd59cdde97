import { fileURLToPath } from "node:url";
import { test } from "vitest";
import { Quality, Reason } from "../../src/boat/quality.ts";
import { type SignalFacts, SignalTable } from "../../src/boat/signal-table.ts";
import { HOUR } from "../../src/ground/time.ts";
import { alarmPayload, alarmTopic, eventPayload } from "../../src/outputs/mqtt/alarm-payload.ts";
import { commandAnswers } from "../../src/outputs/mqtt/command-answer.ts";
import { devicePayload, deviceTopic } from "../../src/outputs/mqtt/device-payload.ts";
import { historyPack } from "../../src/outputs/mqtt/history-payload.ts";
import { linkLostPayload, linkPayload } from "../../src/outputs/mqtt/link-payload.ts";
import { notHeardPayload, signalPayload } from "../../src/outputs/mqtt/signal-payload.ts";
import type { Sheet } from "../../src/store/history.ts";
import type { NumberRecord } from "../../src/store/minute-record.ts";
import type { UnitCode } from "../../src/units/codes.ts";
import { expectGolden } from "../support/golden.ts";
import { BASE, MORNING, RAISED, STATUS } from "../support/mqtt-boat.ts";

/** Every kind of message that goes to the broker, as topic, a space, and payload (contract §4). */
const GOLDEN = fileURLToPath(new URL("mqtt/messages.txt", import.meta.url));

test("topics and payloads are those of the contract", () => {
  const lines = [
    `link ${linkPayload("connected", MORNING, TOLD)}`,
    `link ${linkPayload("stopped", MORNING, TOLD)}`,
    `link ${linkLostPayload()}`,
    ...signalLines(),
    `${alarmTopic(STATUS)} ${alarmPayload(STATUS)}`,
    `${alarmTopic(STATUS)} ${alarmPayload({ ...STATUS, ...NEVER_RAISED })}`,
    `${alarmTopic(STATUS)} ${
      alarmPayload({ ...STATUS, hold: "shelved", heldUntil: MORNING + HOUR })
    }`,
    `event ${eventPayload("00112233aabbccdd", { number: 1, change: RAISED })}`,
    `history/pack ${historyPack(BASE, "00112233aabbccdd", SHEETS)}`,
    `${deviceTopic(DEVICE)} ${devicePayload(DEVICE)}`,
    ...commandAnswers("a1", { accepted: true }, null, BASE, MORNING)
      .map(({ topic, payload }) => `${topic} ${payload}`),
    ...commandAnswers("r1", { accepted: true, from: 5, to: 9 }, null, BASE, MORNING)
      .map(({ topic, payload }) => `${topic} ${payload}`),
    ...commandAnswers("a1", { accepted: false, refused: "No." }, null, BASE, MORNING)
      .map(({ topic, payload }) => `${topic} ${payload}`),
  ];
  expectGolden(GOLDEN, lines.map((line) => `${BASE}${line}\n`).join(""));
});

const TOLD = { epoch: "00112233aabbccdd", number: 41, history: 7 };

/** 2026-06-14T10:12Z */
const MINUTE = Math.floor(MORNING / 60_000_000);
const SHEETS: Sheet[] = [
  { number: 6, records: [numbers("engine/port/speed", "1/min", 700.25, MINUTE)] },
  {
    number: 7,
    records: [
      numbers("engine/port/speed", "1/min", 2600, MINUTE + 1),
      numbers("tank/fuel-port/level", "%", 40.5, MINUTE - 3, 5),
      numbers("engine/port/fuel-rate", "L/h", 12.3, MINUTE + 1),
      numbers("battery/house/charge", "A.h", 200, MINUTE + 1),
      numbers("position/latitude", "deg", 50.4123456, MINUTE + 1),
      numbers("heading/magnetic", "deg", 359, MINUTE + 1),
      numbers("heading/rate-of-turn", "deg/s", 3, MINUTE + 1),
      numbers("bilge/aft/float", "1", 0, MINUTE + 1),
      {
        name: "charger/shore/operating-state",
        minute: MINUTE + 1,
        length: 1,
        count: 40,
        word: "float",
      },
    ],
  },
];

function numbers(
  name: string,
  unit: UnitCode,
  value: number,
  minute: number,
  length = 1,
): NumberRecord {
  const values = { min: value, mean: value, max: value };
  return { name, unit, decimals: 2, minute, length, count: 60, ...values };
}

const NEVER_RAISED = {
  state: "normal",
  occurrence: 0,
  value: null,
  setpoint: null,
  raised: null,
  changed: null,
  message: "",
} as const;

const DEVICE = {
  name: "c0328200a2a0d3f1",
  address: 35,
  manufacturerCode: 1300,
  function: 130,
  model: "Engine interface",
  serial: "A-0042",
  lastHeard: MORNING,
};

function signalLines(): string[] {
  const words = new Map([[2, "absorption"]]);
  return [
    signalLine("engine/port/oil-pressure", 345_000, { unit: "Pa" }),
    signalLine("engine/port/coolant-temperature", 56.950000000000045, {
      unit: "Cel",
      decimals: 2,
    }),
    signalLine("charger/shore/operating-state", 2, { unit: "", words }),
    signalLine("bilge/aft/float", 0, { unit: "1" }),
    signalLine("engine/port/speed", 700, { unit: "1/min" }, Quality.uncertain, Reason.twoSenders),
    signalLine("engine/port/fuel-rate", NaN, { unit: "L/h" }, Quality.bad, Reason.notAvailable),
    `engine/port/trim ${notHeardPayload("%", MORNING)}`,
  ];
}

function signalLine(
  name: string,
  value: number,
  facts: Partial<SignalFacts>,
  quality: Quality = Quality.good,
  reason: Reason = Reason.none,
): string {
  const [group, subject, quantity] = name.split("/");
  const own = { name, group, subject, quantity, unit: "1", decimals: 0 } as const;
  const table = new SignalTable();
  const signal = table.intern({ ...own, words: null, span: null, derived: false, ...facts });
  table.set(signal, value, quality, reason, MORNING);
  return `${name} ${signalPayload(table, signal, (steady) => steady)}`;
}
