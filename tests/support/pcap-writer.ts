import { FrameFlag } from "../../src/bus/frame-batch.ts";
import { type Frame, joined } from "./frames.ts";

/**
 * Captures for tests, written after the published formats (draft-ietf-opsawg-pcap,
 * draft-ietf-opsawg-pcapng, tcpdump.org "LINKTYPE_CAN_SOCKETCAN", "LINKTYPE_LINUX_SLL" and
 * "LINKTYPE_LINUX_SLL2"), so that the readers are held against tshark and not against themselves:
 * `tests/outside/` reads the same captures with it.
 */
export interface CaptureForm {
  readonly linkType: 227 | 113 | 276;
  readonly littleEndian: boolean;
  readonly nanoseconds: boolean;
}

export const USUAL_FORM: CaptureForm = { linkType: 227, littleEndian: true, nanoseconds: false };

/** The frames' buses are not kept: the format has none. */
export function pcapOf(frames: readonly Frame[], form: CaptureForm = USUAL_FORM): Uint8Array {
  const { littleEndian, nanoseconds } = form;
  const header = new DataView(new ArrayBuffer(24));
  header.setUint32(0, nanoseconds ? 0xa1b23c4d : 0xa1b2c3d4, littleEndian);
  header.setUint16(4, 2, littleEndian);
  header.setUint16(6, 4, littleEndian);
  header.setUint32(16, 65_535, littleEndian);
  header.setUint32(20, form.linkType, littleEndian);
  const records = frames.flatMap((frame) => {
    const packet = packetOf(frame, form);
    const record = new DataView(new ArrayBuffer(16));
    const fraction = frame.time % 1_000_000;
    record.setUint32(0, Math.floor(frame.time / 1_000_000), littleEndian);
    record.setUint32(4, nanoseconds ? fraction * 1000 + 999 : fraction, littleEndian);
    record.setUint32(8, packet.length, littleEndian);
    record.setUint32(12, packet.length, littleEndian);
    return [bytesOf(record), packet];
  });
  return joined([bytesOf(header), ...records]);
}

/** One interface for each bus; stamps in nanoseconds or in the default microseconds. */
export function pcapngOf(frames: readonly Frame[], form: CaptureForm = USUAL_FORM): Uint8Array {
  const { littleEndian, nanoseconds } = form;
  const buses = [...new Set(frames.map(({ bus }) => bus))];
  const section = new DataView(new ArrayBuffer(16));
  section.setUint32(0, 0x1a2b3c4d, littleEndian);
  section.setUint16(4, 1, littleEndian);
  section.setBigInt64(8, -1n, littleEndian);
  const interfaces = buses.map((bus) => {
    const description = new DataView(new ArrayBuffer(8));
    description.setUint16(0, form.linkType, littleEndian);
    const name = option(2, new TextEncoder().encode(bus), littleEndian);
    const clock = nanoseconds ? option(9, new Uint8Array([9]), littleEndian) : new Uint8Array(0);
    return block(1, joined([bytesOf(description), name, clock, new Uint8Array(4)]), littleEndian);
  });
  const packets = frames.map((frame) => {
    const packet = packetOf(frame, form);
    const header = new DataView(new ArrayBuffer(20));
    const ticks = nanoseconds ? BigInt(frame.time) * 1000n + 999n : BigInt(frame.time);
    header.setUint32(0, buses.indexOf(frame.bus), littleEndian);
    header.setUint32(4, Number(ticks >> 32n), littleEndian);
    header.setUint32(8, Number(ticks & 0xffffffffn), littleEndian);
    header.setUint32(12, packet.length, littleEndian);
    header.setUint32(16, packet.length, littleEndian);
    return block(6, joined([bytesOf(header), packet]), littleEndian);
  });
  return joined([block(0x0a0d0d0a, bytesOf(section), littleEndian), ...interfaces, ...packets]);
}

/** A block of any type around its body, which is padded to whole words. */
export function block(type: number, body: Uint8Array, littleEndian = true): Uint8Array {
  const padded = Math.ceil(body.length / 4) * 4;
  const view = new DataView(new ArrayBuffer(12 + padded));
  view.setUint32(0, type, littleEndian);
  view.setUint32(4, view.byteLength, littleEndian);
  view.setUint32(view.byteLength - 4, view.byteLength, littleEndian);
  const bytes = bytesOf(view);
  bytes.set(body, 8);
  return bytes;
}

function option(code: number, value: Uint8Array, littleEndian: boolean): Uint8Array {
  const view = new DataView(new ArrayBuffer(4 + Math.ceil(value.length / 4) * 4));
  view.setUint16(0, code, littleEndian);
  view.setUint16(2, value.length, littleEndian);
  const bytes = bytesOf(view);
  bytes.set(value, 4);
  return bytes;
}

function packetOf(frame: Frame, { linkType, littleEndian }: CaptureForm): Uint8Array {
  const cooked = linkType !== 227;
  const at = { 227: 0, 113: 16, 276: 20 }[linkType];
  const view = new DataView(new ArrayBuffer(at + 16));
  // To us by broadcast, from a CAN device (ARPHRD_CAN, 280), protocol ETH_P_CAN (0x000C).
  if (linkType === 276) {
    view.setUint16(0, 0x000c);
    view.setUint32(4, 3);
    view.setUint16(8, 280);
    view.setUint8(10, 1);
  }
  if (linkType === 113) {
    view.setUint16(0, 1);
    view.setUint16(2, 280);
    view.setUint16(14, 0x000c);
  }
  const bits = ((frame.flags & FrameFlag.extended) !== 0 ? 0x80000000 : 0) +
    ((frame.flags & FrameFlag.remote) !== 0 ? 0x40000000 : 0) +
    ((frame.flags & FrameFlag.error) !== 0 ? 0x20000000 : 0);
  view.setUint32(at, frame.identifier + bits, cooked && littleEndian);
  view.setUint8(at + 4, frame.length);
  const bytes = bytesOf(view);
  bytes.set(frame.data, at + 8);
  return bytes;
}

function bytesOf(view: DataView): Uint8Array {
  return new Uint8Array(view.buffer, view.byteOffset, view.byteLength);
}
