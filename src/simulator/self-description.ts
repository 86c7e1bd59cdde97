import type { DeviceFacts, Sending } from "./sending.ts";

/** Stands for no maker, as far as we know. */
const MANUFACTURER_CODE = 2040;
const MARINE_INDUSTRY = 4;

/** Sent when the device comes on the bus, and again when it has to move to another address. */
export function addressClaim(facts: DeviceFacts, address: () => number): Sending {
  const instance = facts.deviceInstance ?? 0;
  return {
    pgn: 60928,
    period: null,
    measured: () => ({
      "identity-number": facts.identity,
      "manufacturer-code": MANUFACTURER_CODE,
      "device-instance-lower": instance & 7,
      "device-instance-upper": instance >> 3,
      "device-function": facts.deviceFunction,
      "device-class": facts.deviceClass,
      "system-instance": 0,
      "industry-group": MARINE_INDUSTRY,
      "arbitrary-address": "yes",
    }),
    watched: address,
  };
}

export function productInformation(facts: DeviceFacts): Sending {
  return {
    pgn: 126996,
    period: null,
    measured: () => ({
      "network-version": 2.1,
      "product-code": 1000 + facts.address,
      model: facts.model,
      "software-version": "1.4",
      "model-version": "B",
      serial: facts.serial,
      "certification-level": 1,
      "load-equivalency": 1,
    }),
  };
}
