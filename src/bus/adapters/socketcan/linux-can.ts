// Numbers of Linux's own headers: `can.h`, `can/raw.h`, `socket.h`, `asm-generic/socket.h`.

/** AF_CAN */
export const FAMILY_CAN = 29;
/** SOCK_RAW, which neither waits (SOCK_NONBLOCK) nor is inherited (SOCK_CLOEXEC) */
export const RAW_SOCKET = 3 | 0x800 | 0x80000;
/** CAN_RAW */
export const PROTOCOL_RAW = 1;
/** MSG_DONTWAIT */
export const NOT_WAITING = 0x40;

/** SOL_SOCKET and options of that level. */
export const SocketOption = {
  level: 1,
  /** SO_RCVBUF: at most what the system allows anybody. */
  receiveBuffer: 8,
  /** SO_RCVBUFFORCE: as much as asked for; needs CAP_NET_ADMIN. */
  receiveBufferForced: 33,
  /** SO_TIMESTAMPNS, also the type of the control message that carries the stamp. */
  timestamps: 35,
  /** SO_RXQ_OVFL, also the type of the control message that carries the count. */
  dropCount: 40,
  /** SO_MEMINFO: nine u32, the first of them bytes that wait, the last frames dropped so far. */
  memory: 55,
} as const;
export const MEMORY_WORDS = 9;
export const MEMORY_WAITING = 0;
export const MEMORY_DROPPED = 8;

/** SOL_CAN_RAW and options of that level. */
export const CanOption = { level: 101, errorFilter: 2 } as const;
/** CAN_ERR_MASK: every class of error. */
export const EVERY_ERROR = 0x1fffffff;

/** `struct sockaddr_can`, 24 bytes: family u16 at 0, index of the interface i32 at 4. */
export function canAddress(interfaceIndex: number): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(24);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, FAMILY_CAN, true);
  view.setInt32(4, interfaceIndex, true);
  return bytes;
}
