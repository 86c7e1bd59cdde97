import type { DecodedField } from "./decode-message.ts";

/** What a device says of itself (PGN 126996); null where it does not say. */
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

export function productInformationFrom(
  fields: Readonly<Record<string, DecodedField | undefined>>,
): ProductInformation {
  const text = (name: string) => {
    const value = fields[name]?.value;
    return typeof value === "string" ? value : null;
  };
  const number = (name: string) => {
    const value = fields[name]?.value;
    return typeof value === "number" ? value : null;
  };
  return {
    networkVersion: number("network-version"),
    productCode: number("product-code"),
    model: text("model"),
    softwareVersion: text("software-version"),
    modelVersion: text("model-version"),
    serial: text("serial"),
    certificationLevel: number("certification-level"),
    loadEquivalency: number("load-equivalency"),
  };
}
