/** Link type of SocketCAN frames (tcpdump.org/linktypes/LINKTYPE_CAN_SOCKETCAN.html). */
const SOCKETCAN = 227;
const EXTENDED = 0x80000000;

/** A pcap file of one frame of eight zeros for each 29-bit identifier, written for other readers. */
export function pcapOf(identifiers: readonly number[]): Uint8Array {
  const [headerBytes, recordBytes, frameBytes] = [24, 16, 16];
  const file = new Uint8Array(headerBytes + identifiers.length * (recordBytes + frameBytes));
  const view = new DataView(file.buffer);
  view.setUint32(0, 0xa1b2c3d4, true);
  view.setUint16(4, 2, true);
  view.setUint16(6, 4, true);
  view.setUint32(16, 65_535, true);
  view.setUint32(20, SOCKETCAN, true);
  for (const [i, identifier] of identifiers.entries()) {
    const at = headerBytes + i * (recordBytes + frameBytes);
    view.setUint32(at, i, true);
    view.setUint32(at + 8, frameBytes, true);
    view.setUint32(at + 12, frameBytes, true);
    // The identifier is big-endian in this link type, whatever the file's order.
    view.setUint32(at + recordBytes, identifier + EXTENDED, false);
    view.setUint8(at + recordBytes + 4, 8);
  }
  return file;
}
