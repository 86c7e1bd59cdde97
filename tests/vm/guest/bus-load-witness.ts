import { until } from "./shell.ts";

export interface BusTotals {
  readonly frames: number;
  /** On the wire, stuff bits included. */
  readonly bits: number;
}

/** `canbusload -e` on some interfaces: a line for each of them in every second. */
export class BusLoadWitness {
  #said = "";

  private constructor(
    readonly interfaces: readonly string[],
    readonly process: Deno.ChildProcess,
  ) {
    void this.#listen();
  }

  /** @param bitRates by interface */
  static async watch(bitRates: Readonly<Record<string, number>>): Promise<BusLoadWitness> {
    const places = Object.entries(bitRates).map(([name, rate]) => `${name}@${rate}`);
    const process = new Deno.Command("canbusload", {
      args: ["-e", ...places],
      stdout: "piped",
      stderr: "null",
    }).spawn();
    const witness = new BusLoadWitness(Object.keys(bitRates), process);
    await until("canbusload has begun", () => witness.#said.includes("@"));
    return witness;
  }

  /** What it counted, once it has counted so many frames in all. */
  async totals(frames: number): Promise<BusTotals[]> {
    const all = () => this.interfaces.map((name) => this.#totalsOf(name));
    await until(
      `canbusload counts ${frames}`,
      () => all().reduce((sum, one) => sum + one.frames, 0) >= frames,
    );
    this.process.kill("SIGTERM");
    await this.process.status;
    return all();
  }

  /** " vcan0@250000   900  116000  57600  46%" */
  #totalsOf(name: string): BusTotals {
    const pattern = new RegExp(`${name}@\\d+ +(\\d+) +(\\d+) +\\d+ +\\d+%`, "g");
    const seconds = [...this.#said.matchAll(pattern)]
      .map(([, ...numbers]) => numbers.map(Number));
    return {
      frames: seconds.reduce((sum, [frames]) => sum + frames, 0),
      bits: seconds.reduce((sum, [, bits]) => sum + bits, 0),
    };
  }

  async #listen(): Promise<void> {
    const decoder = new TextDecoder();
    for await (const bytes of this.process.stdout) {
      this.#said += decoder.decode(bytes, { stream: true });
    }
  }
}
