import type { Check } from "../check.ts";
import { Listener } from "../guest/listener.ts";
import { randomLines } from "../guest/random-lines.ts";
import { same, sameLines, sh } from "../guest/shell.ts";
import { makeVirtual, play, remove, Witness } from "../guest/witness.ts";

/** What comes out of a virtual bus, compared with `candump -L` byte for byte, times included. */
export const frameChecks: readonly Check[] = [
  {
    name: "every kind of frame comes out byte for byte as candump -L writes it",
    async run() {
      await makeVirtual("vcan0");
      const witness = await Witness.watch("vcan0");
      const ours = await Listener.open("socketcan:vcan0");
      const sent = randomLines("vcan0", 6_000, "every kind", 0);
      await play(sent, "fast");
      await ours.heard(6_000);
      await ours.stop();
      sameLines(ours.lines, await witness.lines(6_000));
      const bare = (text: string) => text.replaceAll(/^\(.*?\) /gm, "");
      sameLines(bare(ours.lines), bare(sent));
      same(ours.source.counts.dropped, 0, "dropped");
      same(ours.source.counts.malformed, 0, "malformed");
      await remove("vcan0");
    },
  },
  {
    name: "error frames are counted by kind, and a change of the controller's state is told",
    async run() {
      await makeVirtual("vcan0");
      const ours = await Listener.open("socketcan:vcan0");
      const report = (identifier: string, data: string) =>
        `(1000000000.000000) vcan0 ${identifier}#${data}\n`;
      await play(
        report("20000004", "0008000000008000") + report("20000004", "0030000000008800") +
          report("20000020", "0000000000000000") + report("20000004", "0001000000000000") +
          report("20000040", "0000000000000000") + report("20000040", "0000000000000000") +
          report("20000100", "0000000000000000"),
        "fast",
      );
      await ours.heard(7);
      await ours.stop();
      same(ours.source.counts.errorKinds, {
        "error-warning": 1,
        "error-passive": 1,
        "no-acknowledge": 1,
        "overflow": 1,
        "bus-off": 2,
        "restarted": 1,
      }, "error kinds");
      const states = ours.events.map((event) => event.kind === "controller" ? event.state : "");
      same(states.filter((state) => state !== ""), [
        "error-warning",
        "error-passive",
        "bus-off",
        "error-active",
      ], "states");
      await remove("vcan0");
    },
  },
  {
    name: "frames that the kernel holds when we are told to stop are still taken",
    async run() {
      await makeVirtual("vcan0");
      const ours = await Listener.open("socketcan:vcan0");
      ours.held = true;
      await sh("cansend vcan0 18FF0001#01");
      await ours.heard(1);
      await sh("cangen vcan0 -g 0 -n 2000 -e -I 18FF0001 -L 8 -D i");
      ours.source.stop();
      ours.held = false;
      await ours.ended;
      same(
        [ours.source.counts.frames, ours.source.counts.dropped],
        [2_001, 0],
        "frames and losses",
      );
      await remove("vcan0");
    },
  },
  {
    name: "a consumer that is held up for sixty thousand frames learns how many were lost",
    async run() {
      await makeVirtual("vcan0");
      const ours = await Listener.open("socketcan:vcan0");
      ours.held = true;
      await sh("cansend vcan0 18FF0001#01");
      await ours.heard(1);
      await sh("cangen vcan0 -g 0 -n 60000 -e -I 18FF0001 -L 8 -D i");
      ours.held = false;
      await sh("sleep 1; cansend vcan0 18FF0001#02");
      await ours.heard(60_002 - ours.source.counts.dropped);
      await ours.stop();
      const { frames, dropped } = ours.source.counts;
      same(frames + dropped, 60_002, "frames and losses");
      if (dropped === 0) throw new Error("nothing was lost, so this check showed nothing");
      const told = ours.events.map((event) => event.kind === "dropped" ? event.count : 0);
      same(told.reduce((sum, one) => sum + one, 0), dropped, "losses told");
      await remove("vcan0");
    },
  },
];
