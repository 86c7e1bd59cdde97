import { sh, until } from "./shell.ts";

/** `candump -L` on the same interface, error frames included: what the adapter is compared with. */
export class Witness {
  readonly #file: string;
  readonly #process: Deno.ChildProcess;

  private constructor(file: string, process: Deno.ChildProcess) {
    this.#file = file;
    this.#process = process;
  }

  static async watch(name: string): Promise<Witness> {
    const file = await Deno.makeTempFile();
    const listeners = await countListeners(name);
    const process = new Deno.Command("sh", {
      args: ["-c", `exec candump -L -r 8388608 ${name},0:0,#FFFFFFFF > ${file}`],
    }).spawn();
    await untilListening(name, listeners + 1);
    return new Witness(file, process);
  }

  /** Everything it saw, once it has seen so many frames. */
  async lines(frames: number): Promise<string> {
    const count = async () => Number(await sh(`wc -l < ${this.#file}`));
    // What is missing is told best by the comparison that follows.
    let last = -1;
    await until("candump has all lines", async () => {
      const before = last;
      last = await count();
      // The player may have kept some to itself: then nothing more comes.
      if (last === before) await sh("sleep 2");
      return last >= frames || await count() === before;
    });
    this.#process.kill("SIGTERM");
    await this.#process.status;
    return await Deno.readTextFile(this.#file);
  }
}

export async function makeVirtual(name: string): Promise<void> {
  await sh(`ip link add ${name} type vcan && ip link set ${name} up`);
}

export async function remove(name: string): Promise<void> {
  await sh(`ip link del ${name}`);
}

/** Plays candump lines as fast as they go, or at their own pace. */
export async function play(lines: string, pace: "fast" | "as recorded"): Promise<void> {
  const file = await Deno.makeTempFile();
  await Deno.writeTextFile(file, lines);
  await sh(`canplayer ${pace === "fast" ? "-t -g 0" : "-g 1"} -I ${file}`);
  await Deno.remove(file);
}

/** How many sockets listen to an interface, error frames included; the kernel keeps a list of them. */
async function countListeners(name: string): Promise<number> {
  const list = await Deno.readTextFile("/proc/net/can/rcvlist_err");
  return list.split("\n").filter((line) => line.trim().startsWith(`${name} `)).length;
}

export async function untilListening(name: string, sockets: number): Promise<void> {
  await until(
    `${sockets} sockets listen to ${name}`,
    async () => await countListeners(name) >= sockets,
  );
}
