import type { Columns } from "./columns.ts";
import { type DecodedField, decodeMessage } from "./decode-message.ts";
import { decodeGroups } from "./groups.ts";
import type { Message } from "./message.ts";

export const PRODUCT_INFORMATION = 126996;
export const CONFIGURATION_INFORMATION = 126998;
export const PGN_LIST = 126464;
export const HEARTBEAT = 126993;

/** What a device says of itself; null where it was not heard to say it. */
export interface SelfDescription {
  readonly product: ProductInformation | null;
  readonly configuration: ConfigurationInformation | null;
  /** PGNs that it says it sends, and takes. */
  readonly transmits: readonly number[] | null;
  readonly receives: readonly number[] | null;
  readonly heartbeat: Heartbeat | null;
}

/** PGN 126996; null where the device does not say. */
export interface ProductInformation {
  /** Version of the network standard that it keeps: 2.1. */
  readonly networkVersion: number | null;
  readonly productCode: number | null;
  readonly model: string | null;
  readonly softwareVersion: string | null;
  readonly modelVersion: string | null;
  readonly serial: string | null;
  readonly certificationLevel: number | null;
  /** Current that it draws from the network, in units of 50 mA. */
  readonly loadEquivalency: number | null;
}

/** PGN 126998: what the installer wrote into it, and the maker. */
export interface ConfigurationInformation {
  readonly installation1: string | null;
  readonly installation2: string | null;
  readonly manufacturerInformation: string | null;
}

/** PGN 126993. */
export interface Heartbeat {
  /** Seconds from one to the next. */
  readonly interval: number | null;
  /** "error-active", "error-passive", "bus-off" */
  readonly controller1: string | null;
  readonly controller2: string | null;
  /** "operational", "fault" */
  readonly equipment: string | null;
}

export const NOTHING_SAID: SelfDescription = {
  product: null,
  configuration: null,
  transmits: null,
  receives: null,
  heartbeat: null,
};

/** The fields of one message, asked for by name. */
interface Said {
  text(name: string): string | null;
  number(name: string): number | null;
  /** A number of each group. */
  numbers(name: string): number[];
}

/** By PGN: what it adds to the description. */
const READERS: Readonly<Record<number, (said: Said) => Partial<SelfDescription>>> = {
  [PRODUCT_INFORMATION]: ({ text, number }) => ({
    product: {
      networkVersion: number("network-version"),
      productCode: number("product-code"),
      model: text("model"),
      softwareVersion: text("software-version"),
      modelVersion: text("model-version"),
      serial: text("serial"),
      certificationLevel: number("certification-level"),
      loadEquivalency: number("load-equivalency"),
    },
  }),
  [CONFIGURATION_INFORMATION]: ({ text }) => ({
    configuration: {
      installation1: text("installation-1"),
      installation2: text("installation-2"),
      manufacturerInformation: text("manufacturer-information"),
    },
  }),
  [PGN_LIST]: ({ text, numbers }) => {
    const direction = text("direction");
    if (direction === "transmitted") return { transmits: numbers("pgn") };
    return direction === "received" ? { receives: numbers("pgn") } : {};
  },
  [HEARTBEAT]: ({ text, number }) => ({
    heartbeat: {
      interval: number("interval"),
      controller1: text("controller-1"),
      controller2: text("controller-2"),
      equipment: text("equipment-status"),
    },
  }),
};

/** Whether messages of a PGN say something about their sender. */
export function describesItsSender(pgn: number): boolean {
  return pgn in READERS;
}

/** What a message says about its sender; nothing where it has no row, or describes something else. */
export function descriptionIn(columns: Columns, message: Message): Partial<SelfDescription> {
  const { pgn, row, bytes, start, length } = message;
  if (row < 0 || !describesItsSender(pgn)) return {};
  const fields: Readonly<Record<string, DecodedField | undefined>> = decodeMessage(
    columns,
    row,
    bytes,
    start,
    length,
  );
  return READERS[pgn]({
    text: (name) => asText(fields[name]),
    number: (name) => asNumber(fields[name]),
    numbers: (name) =>
      decodeGroups(columns, row, bytes, start, length)
        .map((group) => asNumber(group[name])).filter((number) => number !== null),
  });
}

function asText(field: DecodedField | undefined): string | null {
  return typeof field?.value === "string" ? field.value : null;
}

function asNumber(field: DecodedField | undefined): number | null {
  return typeof field?.value === "number" ? field.value : null;
}
