/** Numbers of Linux's `errno.h` that these adapters meet. */
export const Errno = {
  notPermitted: 1,
  noEntry: 2,
  interrupted: 4,
  noDeviceOrAddress: 6,
  again: 11,
  accessDenied: 13,
  busy: 16,
  noDevice: 19,
  notTerminal: 25,
  protocolNotSupported: 93,
  familyNotSupported: 97,
  networkDown: 100,
} as const;

const WORDS: Readonly<Record<number, string>> = {
  [Errno.notPermitted]: "the operation is not permitted",
  [Errno.noEntry]: "there is no such file",
  5: "input or output failed",
  [Errno.noDeviceOrAddress]: "nothing is plugged in there",
  [Errno.accessDenied]: "access is denied",
  [Errno.busy]: "it is in use",
  [Errno.noDevice]: "there is no such device",
  [Errno.notTerminal]: "it is no serial device",
  [Errno.networkDown]: "the interface is down",
};

/** A clause for an error number of the operating system. */
export function sayErrno(errno: number): string {
  return WORDS[errno] ?? `the operating system says error ${errno}`;
}
