import { BusNames } from "../../../src/bus/bus-names.ts";
import { openInput } from "../../../src/bus/open-input.ts";
import { liveParts } from "../../../src/commands/sources/live-parts.ts";
import { realClock } from "../../../src/commands/watching/real-clock.ts";
import { BusTraffic } from "../../../src/boat/health/bus-traffic.ts";
import { plainBits, stuffBits } from "../../../src/boat/health/frame-bits.ts";
import { FRAME_BYTES, type FrameBatch } from "../../../src/bus/frame-batch.ts";
import type { Check } from "../check.ts";
import { BusLoadWitness } from "../guest/bus-load-witness.ts";
import { engineLines, merged } from "../guest/engine-lines.ts";
import { fullBus } from "../guest/full-bus.ts";
import { same, sh, until } from "../guest/shell.ts";
import { asNobody } from "../guest/sternfast.ts";
import { makeVirtual, play, remove, untilListening } from "../guest/witness.ts";

const BOAT = `networks:
  main: { bus: vcan0, powered: always }
  wing-engine: { bus: vcan1, speaks: j1939, bit-rate: 500k }
engines: { wing: { bus: vcan1, address: 0 } }
`;

/** The same frames at a quarter of the pace: the processor is emulated. */
function slower(lines: string): string {
  const begins = Number(/\((.*?)\)/.exec(lines)?.[1]);
  return lines.replaceAll(
    /\((.*?)\)/g,
    (_, time) => `(${(begins + 4 * (Number(time) - begins)).toFixed(6)})`,
  );
}

/** Bits of a batch's extended frames, each of them counted. */
function exactBits({ count, data, identifiers, lengths }: FrameBatch): number {
  let bits = 0;
  for (let i = 0; i < count; i++) {
    bits += plainBits(true, lengths[i]);
    bits += stuffBits(identifiers[i], data, i * FRAME_BYTES, lengths[i]);
  }
  return bits;
}

interface BusReport {
  readonly bus: string;
  /** Percent, in the mean. */
  readonly load: number;
}

/** Two buses at different bit rates, beside can-utils' `canbusload -e`, which counts stuff bits too. */
export const twoBusesChecks: readonly Check[] = [
  {
    name: "the bits on two buses are those that canbusload counts, stuff bits included",
    async run(note) {
      await makeVirtual("vcan0");
      await makeVirtual("vcan1");
      const witness = await BusLoadWitness.watch({ vcan0: 250_000, vcan1: 500_000 });
      const traffic = new BusTraffic();
      const buses = new BusNames();
      const options = { buses, folder: "/", live: liveParts(realClock()) };
      const inputs = ["socketcan:vcan0", "socketcan:vcan1"];
      const sources = await Promise.all(inputs.map((input) => openInput(input, options)));
      const exact = [0, 0];
      const following = sources.map(async (source) => {
        for await (const batch of source.batches()) {
          traffic.count(batch, 0, batch.count);
          exact[batch.buses[0]] += exactBits(batch);
        }
      });
      const { lines, sent } = await fullBus(3_600);
      await play(merged(lines, engineLines(2)), "as recorded");
      await until("all frames came", () => traffic.frames[0] + traffic.frames[1] >= sent + 200);
      sources.forEach((source) => source.stop());
      await Promise.all(following);
      const theirs = await witness.totals(sent + 200);
      for (const [bus, name] of ["vcan0", "vcan1"].entries()) {
        const number = buses.numberOf(name);
        const ours = { frames: traffic.frames[number], bits: traffic.bits(number) };
        const share = ours.bits / theirs[bus].bits;
        note(`${name}: ${ours.frames} frames, ${Math.round(ours.bits)} bits, ${share.toFixed(4)}`);
        same(
          [ours.frames, exact[number]],
          [theirs[bus].frames, theirs[bus].bits],
          "frames and bits",
        );
        // Stuff bits of one frame in 256 are counted and stand for the rest.
        if (Math.abs(share - 1) > 0.02) throw new Error(`canbusload says ${theirs[bus].bits} bits`);
      }
      await remove("vcan0");
      await remove("vcan1");
    },
  },
  {
    name: "survey hears NMEA 2000 at 250 kbit/s and J1939 at 500 kbit/s, two buses at once",
    async run(note) {
      await sh("echo 16777216 > /proc/sys/net/core/rmem_max");
      await makeVirtual("vcan0");
      await makeVirtual("vcan1");
      await Deno.writeTextFile("/tmp/two-buses.yaml", BOAT);
      const typed = ["socketcan:vcan0", "socketcan:vcan1", "--boat", "/tmp/two-buses.yaml"];
      const surveying = asNobody(["survey", ...typed, "--for", "120 s", "--json"]);
      await untilListening("vcan0", 1);
      await untilListening("vcan1", 1);
      const bitRates = { vcan0: 250_000, vcan1: 500_000 };
      const witness = await BusLoadWitness.watch(bitRates);
      const { lines, sent } = await fullBus(2_250);
      await play(merged(slower(lines), engineLines(5)), "as recorded");
      const theirs = await witness.totals(sent + 500);
      // So that the last second is a whole one.
      await sh("sleep 1");
      await surveying.interrupt();
      const { said } = await surveying.finished();
      const report: { buses: BusReport[]; seconds: number; signals: { name: string }[] } = JSON
        .parse(said.slice(said.indexOf("{\n")));
      for (const [bus, [name, rate]] of Object.entries(bitRates).entries()) {
        const ours = report.buses.find((one) => one.bus === name);
        const inBits = (ours?.load ?? 0) / 100 * rate;
        // A mean is of whole seconds by the clock: the first and the last are begun, silent ones
        // follow, and what came after the last is in none. Another bit rate would be twice as far off.
        const lasted = theirs[bus].bits / inBits;
        note(`${name}: ${ours?.load} % of ${rate / 1000} kbit/s for ${lasted.toFixed(1)} s`);
        const isSo = lasted > report.seconds - 2 && lasted < report.seconds + 3;
        if (!isSo) throw new Error(`${report.seconds} s, ${JSON.stringify(ours)}`);
      }
      const names = report.signals.map((signal) => signal.name);
      for (const name of ["engine/wing/speed", "engine/0/speed"]) {
        if (!names.includes(name)) throw new Error(`no ${name} among ${names}`);
      }
      await remove("vcan0");
      await remove("vcan1");
    },
  },
];
