import { expect, onTestFinished, test } from "vitest";
import { BusNames } from "../../src/bus/bus-names.ts";
import { CandumpWriter } from "../../src/bus/recordings/candump-writer.ts";
import { MILLISECOND } from "../../src/ground/time.ts";
import { ownFolder } from "../support/own-folder.ts";
import { SlcanAdapter } from "../support/slcan-adapter.ts";
import { speedOf } from "../support/speed-frame.ts";
import { start } from "../support/sternfast.ts";

/** Longer than anything here may stay unheard. */
const STOPPED_MS = 10_000;
const RULES = `alarms:
  - tag: sender-lost
    title: Sender lost
    each: engine
    not-heard: { signal: speed }
    on-delay: 3 s
    priority: warning
  - tag: engine-slow
    title: Slower than it was
    each: engine
    low: { signal: speed, setpoint: 1500 rpm }
    on-delay: 2 s
    priority: warning
`;

const wait = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

/** A gateway with one engine, whose speed is said ten times a second to whoever calls. */
class EngineServer {
  speed = 1_800;
  readonly #listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });

  constructor() {
    this.#serve().catch(() => {});
    onTestFinished(() => this.#listener.close());
  }

  get place(): string {
    return `127.0.0.1:${(this.#listener.addr as Deno.NetAddr).port}`;
  }

  async #serve(): Promise<void> {
    const connection = await this.#listener.accept();
    const buses = new BusNames();
    buses.numberOf("can0");
    const writer = new CandumpWriter(buses);
    for (;;) {
      await connection.write(writer.lines(speedOf(0, this.speed, Date.now() * MILLISECOND)));
      await wait(100);
    }
  }
}

test("a program that was stopped for ten seconds raises nothing from what waited meanwhile", async () => {
  const folder = ownFolder({ "rules.yaml": RULES });
  const servers = [new EngineServer(), new EngineServer()];
  const inputs = servers.map(({ place }, i) => `can${i}=tcp:${place}`);
  const running = await start(["run", ...inputs, "--rules", "rules.yaml", "--json"], { folder });
  onTestFinished(() => running.interrupt("SIGKILL"));
  await running.until(/can0=tcp.*: connected/);
  await running.until(/can1=tcp.*: connected/);
  await wait(1_000);
  running.process.kill("SIGSTOP");
  await wait(STOPPED_MS);
  running.process.kill("SIGCONT");
  // From now on both are slow: that they are judged is seen by this.
  for (const server of servers) server.speed = 1_000;
  await running.until(/"can0-0"/);
  await running.until(/"can1-0"/);
  running.interrupt();
  const { out } = await running.finished();
  const changes = out.trim().split("\n").map((line) => JSON.parse(line));
  expect(changes.map(({ tag, subject, to }) => `${tag} ${subject} ${to}`).toSorted()).toEqual([
    "engine-slow can0-0 unacknowledged",
    "engine-slow can1-0 unacknowledged",
  ]);
});

test("nor does one on a serial line, whose frames are stamped when they are read", async () => {
  const folder = ownFolder({ "rules.yaml": RULES });
  const adapter = new SlcanAdapter(new Uint8Array());
  const typed = ["run", `can0=slcan:${adapter.device}`, "--rules", "rules.yaml", "--json"];
  const running = await start(typed, { folder });
  onTestFinished(() => running.interrupt("SIGKILL"));
  let speed = "201C";
  const speaking = setInterval(() => adapter.say(`T09F20001800${speed}FFFF7FFFFF\r`), 100);
  onTestFinished(() => clearInterval(speaking));
  await running.until(/slcan.*: connected/);
  await wait(1_000);
  running.process.kill("SIGSTOP");
  await wait(STOPPED_MS);
  running.process.kill("SIGCONT");
  // 1,000 rpm.
  speed = "A00F";
  await running.until(/"engine-slow"/);
  running.interrupt();
  const { out } = await running.finished();
  clearInterval(speaking);
  await adapter.unplug();
  expect(out.trim().split("\n").map((line) => JSON.parse(line).tag)).toEqual(["engine-slow"]);
});
