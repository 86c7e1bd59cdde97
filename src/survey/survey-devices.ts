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
  const addresses = [
    ...(address === null ? [] : [address]),
    ...(device === null ? [] : watch.devices.formerAddresses(device)),
  ];
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
    messages: messagesFrom(watch, bus, addresses).map(({ count, row }) => ({
      pgn: rows[row].pgn,
      title: rows[row].title,
      count,
      rate: seconds > 0 ? roundRate(count / seconds) : null,
    })),
  };
}

/** What was said at these addresses of one device, by row. */
function messagesFrom(watch: Watch, bus: number, addresses: readonly number[]) {
  const counts = new Map<number, number>();
  for (const address of addresses) {
    for (const { count, row } of watch.devices.tallies.of(bus, address)) {
      counts.set(row, (counts.get(row) ?? 0) + count);
    }
  }
  return [...counts].map(([row, count]) => ({ row, count })).toSorted((a, b) => a.row - b.row);
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
