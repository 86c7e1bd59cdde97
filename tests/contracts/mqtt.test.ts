import { fileURLToPath } from "node:url";
import { test } from "vitest";
import { Quality, Reason } from "../../src/boat/quality.ts";
import { type SignalFacts, SignalTable } from "../../src/boat/signal-table.ts";
import { alarmPayload, alarmTopic, eventPayload } from "../../src/outputs/mqtt/alarm-payload.ts";
import { commandAnswers } from "../../src/outputs/mqtt/command-answer.ts";
import { devicePayload, deviceTopic } from "../../src/outputs/mqtt/device-payload.ts";
import { linkLostPayload, linkPayload } from "../../src/outputs/mqtt/link-payload.ts";
import { notHeardPayload, signalPayload } from "../../src/outputs/mqtt/signal-payload.ts";
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
    `event ${eventPayload("00112233aabbccdd", { number: 1, change: RAISED })}`,
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

const TOLD = { epoch: "00112233aabbccdd", number: 41 };

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
