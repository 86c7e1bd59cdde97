import { gunzipSync } from "node:zlib";
import type { Cost } from "../../support/listen-and-decode.ts";
import type { Check } from "../check.ts";
import { engineLines, merged } from "../guest/engine-lines.ts";
import { fullBus } from "../guest/full-bus.ts";
import { program } from "../guest/program.ts";
import { same, sameLines, sh, until } from "../guest/shell.ts";
import { asNobody } from "../guest/sternfast.ts";
import { makeVirtual, play, remove, untilListening, Witness } from "../guest/witness.ts";

/** The program itself in the machine, as a user without rights. */
export const commandChecks: readonly Check[] = [
  {
    name: "record keeps a full bus and one beside it as candump does, and export reads them back",
    async run() {
      // As a person does who was told of the small buffer.
      await sh("echo 16777216 > /proc/sys/net/core/rmem_max");
      const buses = ["vcan0", "vcan1"];
      for (const bus of buses) await makeVirtual(bus);
      const witnesses = await Promise.all(buses.map((bus) => Witness.watch(bus)));
      const folder = "/tmp/recorded";
      const inputs = buses.map((bus) => `socketcan:${bus}`);
      const recorder = asNobody(["record", ...inputs, "--folder", folder, "--every", "2 s"]);
      for (const bus of buses) await untilListening(bus, 2);
      const { lines, sent } = await fullBus(7_200);
      await play(merged(lines, engineLines(4)), "as recorded");
      same(await recorder.interrupt(), 130, "exit code");
      const names = (await sh(`ls ${folder}`)).trim().split("\n");
      if (names.length < 2) throw new Error(`only ${names}`);
      const kept = await Promise.all(
        names.map(async (name) => gunzipSync(await Deno.readFile(`${folder}/${name}`)).toString()),
      );
      const ours = kept.join("").split("\n");
      for (const [i, bus] of buses.entries()) {
        const own = ours.filter((line) => line.includes(` ${bus} `));
        sameLines(`${own.join("\n")}\n`, await witnesses[i].lines([sent, 400][i]));
      }
      const exported = asNobody(["export", folder]);
      const { code, said } = await exported.finished();
      same(code, 0, said.slice(0, 500));
      for (const name of ["engine/0/speed", "engine/vcan1-0/speed"]) {
        if (!said.includes(`,${name},`)) throw new Error(`no ${name} in ${said.slice(0, 2000)}`);
      }
      for (const bus of buses) await remove(bus);
    },
  },
  {
    name: "a full bus is received and decoded without a loss",
    async run(note) {
      await makeVirtual("vcan0");
      const witness = await Witness.watch("vcan0");
      const { lines, sent } = await fullBus();
      const listening = new Deno.Command("deno", {
        args: [
          "run",
          "-A",
          "--no-lock",
          "--no-config",
          program("listen.js"),
          "socketcan:vcan0",
          `${sent}`,
        ],
        stdout: "piped",
      }).spawn();
      const output = listening.output();
      await untilListening("vcan0", 2);
      await play(lines, "as recorded");
      const seen = (await witness.lines(sent)).trimEnd().split("\n").length;
      note(`canplayer was given ${sent} frames, candump saw ${seen}`);
      // It ends by itself with the last frame, unless the player kept some to itself.
      if (seen < sent) await sh(`sleep 5; kill ${listening.pid}; true`);
      const cost: Cost = JSON.parse(new TextDecoder().decode((await output).stdout));
      same([cost.frames, cost.dropped], [seen, 0], "frames and losses");
      // A wake for each frame costs four times as much; of a real processor, `full-bus-live.test.ts`
      // measures what the same loop takes.
      if (cost.batch < 10) throw new Error(`woken for ${cost.batch} frames each`);
      note(`${Math.round(cost.rate)} frames/s, ${cost.batch.toFixed(0)} at a time`);
      await remove("vcan0");
    },
  },
  {
    name:
      "a user without rights listens too, and is told that the kernel keeps few frames for them",
    async run() {
      const usual = await sh("cat /proc/sys/net/core/rmem_max");
      await sh("echo 212992 > /proc/sys/net/core/rmem_max");
      await makeVirtual("vcan0");
      const recorder = asNobody(["record", "socketcan:vcan0", "--folder", "/tmp/few"]);
      await recorder.until(/keeps \d+ frames only/);
      await sh("cansend vcan0 18FF0001#01");
      await until("a recording begins", () => sh("ls /tmp/few/*").then(() => true, () => false));
      same(await recorder.interrupt(), 130, "exit code");
      await sh(`echo ${usual.trim()} > /proc/sys/net/core/rmem_max`);
      await remove("vcan0");
    },
  },
  {
    name: "without Deno's permission for foreign functions a sentence says which one",
    async run() {
      await makeVirtual("vcan0");
      const allow = ["--no-prompt", "--allow-read", "--allow-write", "--allow-env", "--allow-sys"];
      const { code, said } = await asNobody(["record", "socketcan:vcan0"], allow).finished();
      same(code, 2, said);
      same(/start it with --allow-ffi/.test(said), true, said);
      await remove("vcan0");
    },
  },
];
