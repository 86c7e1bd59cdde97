import { toolIsInstalled } from "./installed-tool.ts";

/**
 * A real mosquitto and its command line clients, as a broker and as readers and senders that know
 * nothing of our code. What a client prints is kept line by line.
 */

/** Whether mosquitto and its clients are on this machine. */
export function hasMosquitto(): boolean {
  return ["mosquitto", "mosquitto_sub", "mosquitto_pub", "stdbuf"].every(toolIsInstalled);
}

export function freePort(): number {
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  const { port } = listener.addr;
  listener.close();
  return port;
}

/** Settings of a broker that lets everybody in and forgets everything. */
export const ANYBODY = "allow_anonymous true\npersistence false\n";
/** The same with a memory, which it writes after every change. */
export const WITH_MEMORY =
  "allow_anonymous true\npersistence true\npersistence_location FOLDER/\n" +
  "autosave_on_changes true\nautosave_interval 1\nmax_queued_messages 0\n";

export class Mosquitto {
  private constructor(
    readonly port: number,
    readonly folder: string,
    private process: Deno.ChildProcess,
  ) {}

  get url(): string {
    return `mqtt://127.0.0.1:${this.port}`;
  }

  /**
   * Starts one on loopback, without memory unless other settings say so, and resolves when it
   * listens.
   */
  static async start(port = freePort(), more = ANYBODY): Promise<Mosquitto> {
    const folder = Deno.makeTempDirSync({ prefix: "sternfast-mosquitto-" });
    Deno.chmodSync(folder, 0o777);
    const settings = `listener ${port} 127.0.0.1\n${more.replaceAll("FOLDER", folder)}`;
    Deno.writeTextFileSync(`${folder}/mosquitto.conf`, settings);
    return new Mosquitto(port, folder, await spawnBroker(folder, port));
  }

  /** Starts one with settings of its own, which listen on this port of loopback. */
  static async startWith(settings: string, port: number, folder: string): Promise<Mosquitto> {
    Deno.writeTextFileSync(`${folder}/mosquitto.conf`, settings);
    return new Mosquitto(port, folder, await spawnBroker(folder, port));
  }

  /** kill -9: no will is sent, no retained message survives. */
  async kill(): Promise<void> {
    this.process.kill("SIGKILL");
    await this.process.status;
  }

  async restart(): Promise<void> {
    this.process = await spawnBroker(this.folder, this.port);
  }

  async stop(): Promise<void> {
    try {
      this.process.kill("SIGTERM");
    } catch { /* it was killed */ }
    await this.process.status;
    Deno.removeSync(this.folder, { recursive: true });
  }
}

async function spawnBroker(folder: string, port: number): Promise<Deno.ChildProcess> {
  const process = new Deno.Command("mosquitto", {
    args: ["-c", `${folder}/mosquitto.conf`],
    stdout: "null",
    stderr: "null",
  }).spawn();
  for (;;) {
    try {
      (await Deno.connect({ hostname: "127.0.0.1", port })).close();
      return process;
    } catch {
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
  }
}

export interface ReadMessage {
  readonly topic: string;
  readonly retained: boolean;
  readonly qos: number;
  readonly payload: string;
}

/** `mosquitto_sub -F '%t %r %q %p'`: topic, retained, QoS, payload. */
export class Reader {
  readonly messages: ReadMessage[] = [];
  readonly #reading: Promise<void>;

  private constructor(readonly process: Deno.ChildProcess) {
    this.#reading = this.#read();
  }

  /** Resolves when the broker has confirmed the subscription. */
  static async start(port: number, topic: string, qos: 0 | 1 = 1): Promise<Reader> {
    // Into a pipe it would keep its lines to itself until it has many; stdbuf (coreutils) stops that.
    const process = new Deno.Command("stdbuf", {
      args: [
        ...["-oL", "mosquitto_sub"],
        ...["-h", "127.0.0.1", "-p", String(port), "-q", String(qos), "-d"],
        ...["-t", topic, "-F", "%t %r %q %p"],
      ],
      stdout: "piped",
      stderr: "null",
    }).spawn();
    const reader = new Reader(process);
    await reader.#subscribed.promise;
    return reader;
  }

  readonly #subscribed = Promise.withResolvers<void>();

  on(topic: string): ReadMessage[] {
    return this.messages.filter((message) => message.topic === topic);
  }

  /** The newest payload on a topic as JSON. */
  latest(topic: string): unknown {
    const payload = this.on(topic).at(-1)?.payload;
    return payload === undefined || payload === "" ? undefined : JSON.parse(payload);
  }

  async stop(): Promise<void> {
    this.process.kill("SIGTERM");
    await this.process.status;
    await this.#reading;
  }

  async #read(): Promise<void> {
    let rest = "";
    for await (const part of this.process.stdout.pipeThrough(new TextDecoderStream())) {
      const lines = (rest + part).split("\n");
      rest = lines.pop() ?? "";
      for (const line of lines) this.#line(line);
    }
  }

  #line(line: string): void {
    if (line.startsWith("Subscribed")) this.#subscribed.resolve();
    const parts = /^(\S+) ([01]) ([012]) (.*)$/.exec(line);
    if (parts === null || /^(Client|Subscribed)/.test(line)) return;
    const [, topic, retained, qos, payload] = parts;
    this.messages.push({ topic, retained: retained === "1", qos: Number(qos), payload });
  }
}

/** `mosquitto_pub`; resolves when the broker has the message. */
export async function send(
  port: number,
  topic: string,
  payload: string,
  ...more: string[]
): Promise<void> {
  const { success, stderr } = await new Deno.Command("mosquitto_pub", {
    args: ["-h", "127.0.0.1", "-p", String(port), "-q", "1", "-t", topic, "-m", payload, ...more],
  }).output();
  if (!success) throw new Error(new TextDecoder().decode(stderr));
}
