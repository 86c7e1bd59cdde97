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
    const process = new Deno.Command("sh", {
      args: ["-c", `exec candump -L -r 8388608 ${name},0:0,#FFFFFFFF > ${file}`],
    }).spawn();
    await until("candump listens", async () => {
      const open = await sh(`ls -l /proc/${process.pid}/fd`).catch(() => "");
      return open.includes("socket:");
    });
    // The socket is there a moment before it is bound to the interface.
    await until(
      "candump's socket is bound",
      async () =>
        (await sh("cat /proc/net/can/rcvlist_all /proc/net/can/rcvlist_err")).split(name).length >
          2,
    );
    return new Witness(file, process);
  }

  /** Everything it saw, once it has seen so many frames. */
  async lines(frames: number): Promise<string> {
    const count = async () => Number(await sh(`wc -l < ${this.#file}`));
    await until(`candump has ${frames} lines`, async () => await count() >= frames);
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
