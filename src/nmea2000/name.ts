/**
 * The 64-bit NAME by which a device is known wherever it stands (SAE J1939-81, ISO 11783-5; bit
 * places as in linux/can/j1939.h). Written as 16 hex digits, highest first, so that the order of
 * the texts is the order of the numbers.
 */
export interface NameParts {
  /** Given by the maker, 21 bits. */
  readonly identityNumber: number;
  readonly manufacturerCode: number;
  /** 8 bits: ECU instance (low 3) and function instance (high 5). */
  readonly deviceInstance: number;
  readonly function: number;
  readonly class: number;
  readonly systemInstance: number;
  /** 4 is marine. */
  readonly industryGroup: number;
  /** Whether the device looks for another address when it loses its own. */
  readonly arbitraryAddress: boolean;
}

export const NAME_BYTES = 8;

/** The NAME in the 8 bytes of an address claim, lowest byte first. */
export function nameFrom(bytes: Uint8Array, start: number): string {
  let name = "";
  for (let at = start + NAME_BYTES - 1; at >= start; at--) {
    name += bytes[at].toString(16).padStart(2, "0");
  }
  return name;
}

/** The bytes of an address claim. */
export function nameBytes(name: string): Uint8Array {
  return Uint8Array.from(
    { length: NAME_BYTES },
    (_, byte) => parseInt(name.slice(14 - 2 * byte, 16 - 2 * byte), 16),
  );
}

export function namePartsOf(name: string): NameParts {
  const high = parseInt(name.slice(0, 8), 16);
  const low = parseInt(name.slice(8), 16);
  return {
    identityNumber: low & 0x1fffff,
    manufacturerCode: low >>> 21,
    deviceInstance: high & 0xff,
    function: (high >>> 8) & 0xff,
    class: (high >>> 17) & 0x7f,
    systemInstance: (high >>> 24) & 0xf,
    industryGroup: (high >>> 28) & 7,
    arbitraryAddress: high >>> 31 === 1,
  };
}
