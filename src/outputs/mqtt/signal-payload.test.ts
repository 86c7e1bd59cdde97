import { describe, expect, test } from "vitest";
import { Quality, Reason } from "../../boat/quality.ts";
import { type SignalFacts, SignalTable } from "../../boat/signal-table.ts";
import { parseIsoTime, SECOND } from "../../ground/time.ts";
import { notHeardPayload, signalPayload } from "./signal-payload.ts";

const now = parseIsoTime("2026-06-14T10:12:03.120Z") ?? 0;

function payload(
  value: number,
  facts: Partial<SignalFacts> = {},
  quality: Quality = Quality.good,
  reason: Reason = Reason.none,
): string {
  const table = new SignalTable();
  const signal = table.intern({
    name: "engine/port/coolant-temperature",
    group: "engine",
    subject: "port",
    quantity: "coolant-temperature",
    unit: "Cel",
    decimals: 2,
    words: null,
    span: 60,
    derived: false,
    ...facts,
  });
  table.set(signal, value, quality, reason, now);
  return signalPayload(table, signal, (steady) => steady);
}

test("a number is rounded by its field, without a binary tail", () => {
  expect(payload(56.950000000000045)).toBe(
    '{"value":56.95,"unit":"Cel","time":"2026-06-14T10:12:03.120Z","quality":"good"}',
  );
  expect(payload(-0.001)).toContain('"value":0,');
});

describe("a value that cannot be believed", () => {
  test("is null and says why", () => {
    expect(JSON.parse(payload(NaN, {}, Quality.bad, Reason.outOfRange))).toMatchObject({
      value: null,
      quality: "bad",
      reason: "out-of-range",
    });
  });

  test("is shown with its doubt where there are two senders", () => {
    expect(JSON.parse(payload(81, {}, Quality.uncertain, Reason.twoSenders))).toMatchObject({
      value: 81,
      quality: "uncertain",
      reason: "two-senders",
    });
  });
});

test("an enumerated value is a word with an empty unit", () => {
  const words = new Map([[3, "absorption"]]);
  expect(JSON.parse(payload(3, { unit: "", words }))).toMatchObject({
    value: "absorption",
    unit: "",
  });
  expect(JSON.parse(payload(9, { unit: "", words }))).toMatchObject({ value: "code-9" });
});

test("the time is that of the last message, on the wall", () => {
  const table = new SignalTable();
  const signal = table.intern({
    name: "sounder/main/depth",
    group: "sounder",
    subject: "main",
    quantity: "depth",
    unit: "m",
    decimals: 2,
    words: null,
    span: null,
    derived: false,
  });
  table.carriers[signal] = table.addCarrier();
  table.set(signal, 4.2, Quality.good, Reason.none, 5 * SECOND);
  table.carrierHeard[0] = 9 * SECOND;
  const text = signalPayload(table, signal, (steady) => now + steady);
  expect(JSON.parse(text).time).toBe("2026-06-14T10:12:12.120Z");
});

test("a signal that nobody brings is bad and not heard", () => {
  expect(JSON.parse(notHeardPayload("Pa", now))).toEqual({
    value: null,
    unit: "Pa",
    time: "2026-06-14T10:12:03.120Z",
    quality: "bad",
    reason: "not-heard",
  });
});
