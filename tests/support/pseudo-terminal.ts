/** A pair of serial devices whose ends are joined: what is written to `device` is read here. */
const SYMBOLS = {
  openpty: { parameters: ["buffer", "buffer", "buffer", "pointer", "pointer"], result: "i32" },
  tcgetattr: { parameters: ["i32", "buffer"], result: "i32" },
  tcsetattr: { parameters: ["i32", "i32", "buffer"], result: "i32" },
  cfmakeraw: { parameters: ["buffer"], result: "void" },
  poll: { parameters: ["buffer", "u64", "i32"], result: "i32", nonblocking: true },
  read: { parameters: ["i32", "buffer", "usize"], result: "isize" },
  write: { parameters: ["i32", "buffer", "usize"], result: "isize" },
  fcntl: { parameters: ["i32", "i32", "i32"], result: "i32" },
  close: { parameters: ["i32"], result: "i32" },
} as const satisfies Deno.ForeignLibraryInterface;

/** F_SETFL and O_NONBLOCK of Linux's `fcntl.h`. */
const SET_FLAGS = 4;
const NOT_WAITING = 0x800;

export class PseudoTerminal {
  readonly #call = Deno.dlopen("libc.so.6", SYMBOLS).symbols;
  readonly #master: number;
  readonly #slave: number;
  #unplugged = false;
  /** Such as /dev/pts/3. */
  readonly device: string;

  constructor() {
    const ends = new Int32Array(2);
    const name = new Uint8Array(64);
    const [master, slave] = [ends.subarray(0, 1), ends.subarray(1)];
    if (this.#call.openpty(master, slave, name, null, null) !== 0) {
      throw new Error("no pseudo-terminal");
    }
    [this.#master, this.#slave] = ends;
    this.device = new TextDecoder().decode(name.subarray(0, name.indexOf(0)));
    this.#call.fcntl(this.#master, SET_FLAGS, NOT_WAITING);
    const settings = new Uint8Array(64);
    this.#call.tcgetattr(this.#slave, settings);
    this.#call.cfmakeraw(settings);
    this.#call.tcsetattr(this.#slave, 0, settings);
  }

  /** What was written to the device; undefined once it was unplugged. */
  async read(): Promise<Uint8Array | undefined> {
    // A read that is under way would keep the device alive, so only a short poll ever is.
    const entry = new Int32Array([this.#master, 1]);
    while (!this.#unplugged) {
      if (await this.#call.poll(entry, 1n, 20) === 0 || this.#unplugged) continue;
      const buffer = new Uint8Array(4096);
      const count = Number(this.#call.read(this.#master, buffer, 4096n));
      if (count > 0) return buffer.subarray(0, count);
    }
    this.#call.close(this.#slave);
    this.#call.close(this.#master);
    return undefined;
  }

  /** Hands on bytes as fast as somebody reads the device. */
  async write(bytes: Uint8Array): Promise<void> {
    for (let at = 0; at < bytes.length && !this.#unplugged;) {
      const part = bytes.slice(at, at + 1024);
      const count = Number(this.#call.write(this.#master, part, BigInt(part.length)));
      if (count > 0) at += count;
      else await new Promise((resolve) => setTimeout(resolve, 1));
    }
  }

  /** The device goes away once nobody reads this end any more. */
  unplug(): void {
    this.#unplugged = true;
  }
}
