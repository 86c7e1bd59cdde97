import type { BusNames } from "../bus/bus-names.ts";
import type { Micros } from "../ground/time.ts";
import type { Device } from "../nmea2000/devices.ts";
import type { Watch } from "../watch.ts";
import { roundRate } from "./round-rate.ts";
import type { SurveyDevice, SurveySender } from "./report-schema.ts";

export interface DeviceParts {
  readonly watch: Watch;
  readonly busNames: BusNames;
  /** How long we listened. */
  readonly seconds: number;
  /** ISO 8601 of a steady time. */
  readonly wall: (steady: Micros) => string;
}

/** Every sender: devices by their NAME, then those that never claimed an address. */
export function surveyDevices(parts: DeviceParts): SurveyDevice[] {
  const { watch: { devices } } = parts;
  const claimed = [...devices.devices].map((device) =>
    said(parts, device.bus, device.address, devices.lastHeard(device), device)
  );
  const strangers = devices.strangers().map(({ address, bus, lastHeard }) =>
    said(parts, bus, address, lastHeard, null)
  );
  const placeOf = ({ address }: SurveyDevice) => address ?? 255;
  return [...claimed, ...strangers].toSorted((a, b) =>
    a.bus.localeCompare(b.bus, "en") || placeOf(a) - placeOf(b)
  );
}

function said(
  { busNames, seconds, wall, watch }: DeviceParts,
  bus: number,
  address: number | null,
  lastHeard: Micros,
  device: Device | null,
): SurveyDevice {
  const { rows } = watch.signals.binder.columns;
  const product = device?.product ?? null;
  const rates = address === null ? [] : watch.devices.rates.of(bus, address, watch.timeline.now);
  return {
    bus: busNames.nameOf(bus),
    name: device?.name ?? null,
    address,
    manufacturerCode: device?.parts.manufacturerCode ?? null,
    model: product?.model ?? null,
    softwareVersion: product?.softwareVersion ?? null,
    serial: product?.serial ?? null,
    loadEquivalency: product?.loadEquivalency ?? null,
    lastHeard: lastHeard === 0 ? null : wall(lastHeard),
    messages: rates.map(({ count, row }) => ({
      pgn: rows[row].pgn,
      title: rows[row].title,
      count,
      rate: seconds > 0 ? roundRate(count / seconds) : null,
    })),
  };
}

/** Who has an address now. */
export function senderAt(
  { busNames, watch }: Pick<DeviceParts, "busNames" | "watch">,
  bus: number,
  address: number,
): SurveySender {
  const device = watch.devices.deviceAt(bus, address);
  return {
    bus: busNames.nameOf(bus),
    address,
    name: device?.name ?? null,
    model: device?.product?.model ?? null,
    serial: device?.product?.serial ?? null,
  };
}
