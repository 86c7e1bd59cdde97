import { CannotOpenInput } from "../../cannot-open-input.ts";

/**
 * What is called of the C library. An edge: foreign functions. There is nothing here that sends a
 * frame; `write` is for the commands of a serial adapter.
 *
 * Only `poll` may wait, so only it runs on another thread: the error number of a call belongs to
 * the thread that made it.
 */
const SYMBOLS = {
  socket: { parameters: ["i32", "i32", "i32"], result: "i32" },
  bind: { parameters: ["i32", "buffer", "u32"], result: "i32" },
  setsockopt: { parameters: ["i32", "i32", "i32", "buffer", "u32"], result: "i32" },
  getsockopt: { parameters: ["i32", "i32", "i32", "buffer", "buffer"], result: "i32" },
  if_nametoindex: { parameters: ["buffer"], result: "u32" },
  recvmmsg: { parameters: ["i32", "buffer", "u32", "i32", "buffer"], result: "i32" },
  poll: { parameters: ["buffer", "u64", "i32"], result: "i32", nonblocking: true },
  eventfd: { parameters: ["u32", "i32"], result: "i32" },
  eventfd_write: { parameters: ["i32", "u64"], result: "i32" },
  // A function of variable arity; without O_CREAT it looks at two arguments only.
  open: { parameters: ["buffer", "i32"], result: "i32" },
  read: { parameters: ["i32", "buffer", "usize"], result: "isize" },
  write: { parameters: ["i32", "buffer", "usize"], result: "isize" },
  close: { parameters: ["i32"], result: "i32" },
  tcgetattr: { parameters: ["i32", "buffer"], result: "i32" },
  tcsetattr: { parameters: ["i32", "i32", "buffer"], result: "i32" },
  tcflush: { parameters: ["i32", "i32"], result: "i32" },
  cfmakeraw: { parameters: ["buffer"], result: "void" },
  cfsetspeed: { parameters: ["buffer", "u32"], result: "i32" },
  __errno_location: { parameters: [], result: "pointer" },
} as const satisfies Deno.ForeignLibraryInterface;

type Calls = Deno.DynamicLibrary<typeof SYMBOLS>["symbols"];

export interface Libc {
  readonly call: Calls;
  /** The error number of the last call that waited for nothing and failed. */
  errno(): number;
  /** Where the memory of a buffer begins; good as long as the buffer is referenced. */
  addressOf(buffer: Uint8Array<ArrayBuffer>): bigint;
}

let loaded: Libc | undefined;

/**
 * The C library, loaded once.
 * @param need what cannot be had without it, for the sentence: "socketcan:can0"
 * @throws {CannotOpenInput} where it may not be called, or is another operating system's
 */
export function libc(need: string): Libc {
  loaded ??= load(need);
  return loaded;
}

function load(need: string): Libc {
  if (Deno.build.os !== "linux") {
    throw new CannotOpenInput(`${need}: this works on Linux only, and here is ${Deno.build.os}.`);
  }
  if (Deno.permissions.querySync({ name: "ffi" }).state !== "granted") {
    throw new CannotOpenInput(
      `${need} is read through the operating system's C library, which this run may not call; ` +
        "start it with --allow-ffi, or pipe lines in: candump -L can0 | sternfast run -",
    );
  }
  const call = Deno.dlopen("libc.so.6", SYMBOLS).symbols;
  const place = call.__errno_location();
  if (place === null) throw new Error("the C library has no error number");
  const view = new Deno.UnsafePointerView(place);
  return {
    call,
    errno: () => view.getInt32(),
    addressOf: (buffer) => Deno.UnsafePointer.value(Deno.UnsafePointer.of(buffer)),
  };
}
