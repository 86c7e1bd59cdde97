import { z } from "zod";
import type { NamedDevice, Network, Subject } from "../boat.ts";
import { switchWord } from "../../ground/switch-word.ts";
import { subject } from "./subject.ts";
import { busText } from "./values.ts";

export const networkSchema = z.strictObject({
  "bus": busText,
  "powered": z.enum(["always", "with-helm"]).optional(),
  "speaks": z.enum(["nmea2000", "j1939"]).optional(),
  "bit-rate": z.enum(["125k", "250k", "500k", "1000k"]).optional(),
  /** Read by the network plan. */
  "plan": z.unknown().optional(),
});

/** NMEA 2000 is always at 250 kbit/s, and J1939 mostly. */
const USUAL_BIT_RATE = "250k";

/** With no word about its power, a network is taken to go off with the helm: no false alarms. */
export function networkFrom(name: string, from: z.output<typeof networkSchema>): Network {
  return {
    name,
    bus: from.bus,
    speaks: from.speaks ?? "nmea2000",
    powered: from.powered ?? "with-helm",
    bitRate: parseInt(from["bit-rate"] ?? USUAL_BIT_RATE) * 1000,
  };
}

/** What rules may ask of a network; its signals are worked out, so no message answers to it. */
export function networkSubject(name: string, from: z.output<typeof networkSchema>): Subject {
  const { powered, speaks } = networkFrom(name, from);
  return subject("network", name, { keys: [], words: { powered, speaks } });
}

const serialText = "the serial in quotes, or the NAME in 16 hexadecimal digits";

export const deviceSchema = z.strictObject({
  "serial": z.string({ error: serialText }).min(1, { error: serialText }),
  "watch": z.literal("always").or(switchWord).optional(),
});

export function deviceFrom(name: string, from: z.output<typeof deviceSchema>): NamedDevice {
  return { name, serial: from.serial, watchAlways: from.watch === "always" || from.watch === true };
}
