import { isoTime, type Micros } from "../../ground/time.ts";

/** A device on a bus, as its address claim and product information describe it. */
export interface DeviceFacts {
  /** Its 64-bit NAME as 16 hexadecimal digits. */
  readonly name: string;
  readonly address: number;
  readonly manufacturerCode: number;
  readonly function: number;
  /** Empty until the device has said. */
  readonly model: string;
  readonly serial: string;
  /** Wall time of its last message. */
  readonly lastHeard: Micros;
}

export function deviceTopic(device: DeviceFacts): string {
  return `device/${device.name}`;
}

export function devicePayload(device: DeviceFacts): string {
  return JSON.stringify({
    address: device.address,
    "manufacturer-code": device.manufacturerCode,
    function: device.function,
    model: device.model,
    serial: device.serial,
    "last-heard": isoTime(device.lastHeard, 3),
  });
}
