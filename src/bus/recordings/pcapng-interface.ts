import type { Micros } from "../../ground/time.ts";
import type { InterfaceNames } from "../interface-names.ts";
import { USUAL_RESOLUTION } from "./capture-time.ts";
import { type CapturedLink, carriesFrames } from "./captured-frame.ts";

/** An interface as a pcapng capture describes it. */
export interface CapturedInterface extends CapturedLink {
  /** The byte of if_tsresol; see `captureMicros`. */
  readonly resolution: number;
  /** To be added to every stamp. */
  readonly offset: Micros;
}

/** Options of an interface description block (draft-ietf-opsawg-pcapng, section 4.2). */
const NAME = 2;
const RESOLUTION = 9;
const OFFSET = 14;

const LINK_TYPE_AT = 8;
const OPTIONS_AT = 16;
const OPTION_HEADER = 4;

/**
 * Reads the interface description block in the first `length` bytes. An interface without a name
 * is called `unnamed`. Options that are cut off are not there.
 */
export function readInterface(
  bytes: Uint8Array,
  view: DataView,
  length: number,
  littleEndian: boolean,
  unnamed: string,
  names: InterfaceNames,
): CapturedInterface {
  let name = unnamed;
  let resolution = USUAL_RESOLUTION;
  let offset = 0;
  for (let at = OPTIONS_AT; at + OPTION_HEADER <= length;) {
    const code = view.getUint16(at, littleEndian);
    const size = view.getUint16(at + 2, littleEndian);
    const valueAt = at + OPTION_HEADER;
    if (code === 0 || valueAt + size > length) break;
    if (code === NAME) name = text(bytes.subarray(valueAt, valueAt + size));
    if (code === RESOLUTION && size === 1) resolution = bytes[valueAt];
    if (code === OFFSET && size === 8) {
      offset = Number(view.getBigInt64(valueAt, littleEndian)) * 1_000_000;
    }
    at = valueAt + Math.ceil(size / 4) * 4;
  }
  const linkType = length < OPTIONS_AT ? 0 : view.getUint16(LINK_TYPE_AT, littleEndian);
  return {
    linkType,
    littleEndian,
    bus: carriesFrames(linkType) ? names.numberOfText(name) : "no-name",
    resolution,
    offset,
  };
}

/** Some programs end the text with a zero byte. */
function text(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes).replace(/\0.*$/s, "");
}
