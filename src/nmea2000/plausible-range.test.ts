import { expect, test } from "vitest";
import { Columns } from "./columns.ts";
import { decodeMessage } from "./decode-message.ts";
import { encodeMessage, type WireValue } from "./encode.ts";
import { FieldStatus } from "./read-field.ts";
import { implausibleFrom, plausibleFrom } from "./plausible-range.ts";
import { ALL_ROWS } from "./rows/all.ts";

const columns = new Columns(ALL_ROWS);
const { present, notAvailable, implausible } = FieldStatus;

test.each<[string, number, string, WireValue, FieldStatus]>([
  ["an ambient of −256 °C", 65269, "ambient-temperature", { raw: 544 }, implausible],
  ["an ambient of −273 °C, no probe", 65269, "ambient-temperature", { raw: 0 }, implausible],
  ["an ambient of −10 °C", 65269, "ambient-temperature", -10, present],
  ["a coolant of zero in one byte, −40 °C", 65262, "coolant-temperature", { raw: 0 }, implausible],
  ["a coolant of −39 °C", 65262, "coolant-temperature", -39, present],
  ["a temperature of 0 K", 130312, "temperature", { raw: 0 }, implausible],
  ["air without any water, no probe", 130311, "humidity", { raw: 0 }, implausible],
  ["the air of a heated cabin", 130311, "humidity", 12, present],
  ["a torque of −125 %, a word of zeros", 61444, "torque", { raw: 0 }, implausible],
  ["the torque of an engine that brakes", 61444, "torque", -91, present],
  [
    "a battery current of −125 A, a word of zeros",
    65271,
    "battery-current",
    { raw: 0 },
    implausible,
  ],
  ["a controller without power that speaks", 65271, "battery-voltage", { raw: 0 }, implausible],
  ["a battery that cranks", 65271, "battery-voltage", 6, present],
  ["a key that is off", 65271, "key-switch-voltage", 0, present],
  ["a crankcase below any vacuum", 65263, "crankcase-pressure", { raw: 0 }, implausible],
  ["a crankcase that breathes", 65263, "crankcase-pressure", 0, present],
  ["a tank that nobody has measured", 127505, "capacity", { raw: 0 }, implausible],
  ["an empty tank", 127505, "level", 0, present],
  ["a battery of no capacity", 127506, "capacity", { raw: 0 }, implausible],
  ["a battery whose health nobody knows", 127506, "state-of-health", { raw: 0 }, implausible],
  ["a fix of no uncertainty at all", 129029, "position-dilution", { raw: 0 }, implausible],
  ["a freezer at −30 °C", 130312, "temperature", 243.15, present],
  ["exhaust gas of 600 °C", 130316, "temperature", 873.15, present],
  ["an atmosphere of 0 Pa", 130310, "atmospheric-pressure", { raw: 0 }, implausible],
  ["a deep low", 130310, "atmospheric-pressure", 93_000, present],
  ["a charge of 101 %", 127506, "state-of-charge", 101, implausible],
  ["a full charge", 127506, "state-of-charge", 100, present],
  ["a latitude of 91°", 129025, "latitude", 91, implausible],
  ["the date line", 129025, "longitude", -180, present],
  ["the pole to 16 places", 129029, "latitude", 90, present],
  ["a heading beyond a full turn", 127250, "heading", 6.4, implausible],
  ["a whole turn", 127250, "heading", 2 * Math.PI, present],
  ["a battery wired the wrong way", 127508, "voltage", -12, implausible],
  ["an empty battery", 127508, "voltage", 0, present],
  ["no heading at all", 127250, "heading", null, notAvailable],
])("%s", (_, pgn, field, value, status) => {
  const row = columns.rowOf(pgn);
  const bytes = encodeMessage(ALL_ROWS[row], { [field]: value });
  const decoded = decodeMessage(columns, row, bytes, 0, bytes.length)[field];
  expect(decoded.status).toBe(status);
  if (status === implausible) expect(decoded.value).toEqual(expect.any(Number));
});

test("limits that lie on a step of the field are possible values, whatever rounding does", () => {
  const common = { kind: "number", name: "t", bit: 0, width: 16, unit: "K" } as const;
  const field = { ...common, resolution: 0.1, plausible: { least: 0.3, most: 0.7 } };
  expect([plausibleFrom(field), implausibleFrom(field)]).toEqual([3, 8]);
  const none = { ...common, resolution: 0.1 };
  expect([plausibleFrom(none), implausibleFrom(none)]).toEqual([-Infinity, Infinity]);
});
