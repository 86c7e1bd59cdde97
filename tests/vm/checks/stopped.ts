import type { Check } from "../check.ts";
import { same, sh } from "../guest/shell.ts";
import { asNobody } from "../guest/sternfast.ts";
import { makeVirtual, play, remove, untilListening } from "../guest/witness.ts";

const RULES = `alarms:
  - tag: sender-lost
    title: Sender lost
    each: engine
    not-heard: { signal: speed }
    on-delay: 2 s
    priority: warning
  - tag: engine-slow
    title: Slower than it was
    each: engine
    low: { signal: speed, setpoint: 1500 rpm }
    on-delay: 1 s
    priority: warning
`;

/** PGN 127488 of engine 0 on both buses, ten times a second: 1,800 rpm, then 1,000 rpm. */
function speedLines(fastSeconds: number, slowSeconds: number): string {
  const line = (i: number, bus: string) => {
    const speed = i < fastSeconds * 10 ? "201C" : "A00F";
    const time = (1_781_431_200 + i / 10).toFixed(6);
    return `(${time}) ${bus} 09F20001#00${speed}FFFF7FFFFF\n`;
  };
  return Array.from(
    { length: (fastSeconds + slowSeconds) * 10 },
    (_, i) => line(i, "vcan0") + line(i, "vcan1"),
  ).join("");
}

export const stoppedChecks: readonly Check[] = [
  {
    name: "a program that was stopped takes what the kernel kept of two buses before time passes",
    async run() {
      await sh("echo 16777216 > /proc/sys/net/core/rmem_max");
      await makeVirtual("vcan0");
      await makeVirtual("vcan1");
      await Deno.writeTextFile("/tmp/stopped.yaml", RULES);
      const inputs = ["socketcan:vcan0", "socketcan:vcan1"];
      const running = asNobody(["run", ...inputs, "--rules", "/tmp/stopped.yaml", "--json"]);
      await untilListening("vcan0", 1);
      await untilListening("vcan1", 1);
      const playing = play(speedLines(7, 4), "as recorded");
      await sh("sleep 2");
      running.stop();
      await sh("sleep 4");
      running.goOn();
      await playing;
      await running.until(/"engine-slow"[^]*"engine-slow"/);
      await running.interrupt();
      const { said } = await running.finished();
      const lines = said.split("\n").filter((text) => text.startsWith("{"));
      const raised = lines.map((text) => JSON.parse(text)).filter(({ to }) => to !== "normal")
        .map(({ tag, subject }) => `${tag} ${subject}`);
      // The player ends, and then the senders are lost indeed.
      same(raised.slice(0, 2).toSorted(), [
        "engine-slow vcan0-0",
        "engine-slow vcan1-0",
      ], "what was raised first");
      await remove("vcan0");
      await remove("vcan1");
    },
  },
];
