import { PseudoTerminal } from "../../support/pseudo-terminal.ts";
import { SlcanAdapter } from "../../support/slcan-adapter.ts";
import type { Check } from "../check.ts";
import { Listener } from "../guest/listener.ts";
import { randomLines, randomNumbers } from "../guest/random-lines.ts";
import { same, sameLines, sh, until } from "../guest/shell.ts";
import { serialLine } from "../guest/serial-line.ts";
import { asNobody } from "../guest/sternfast.ts";
import { Witness } from "../guest/witness.ts";

/**
 * Lines that report the state of the controller and errors on the bus, as adapters send them; the
 * driver passes over lines of fewer than five bytes, so three errors each.
 */
const REPORTS = [
  "sw096008",
  "sp008128",
  "sw100100",
  "sa010010",
  "e3abB",
  "e3cff",
  "e3sss",
  "e3ooo",
  "e3OOO",
  "e3bcf",
  "e4acso",
];
/** The driver takes a frame that lacks its last bytes for one with those of the line before; not so we. */
const GARBAGE = ["", "t12", "T18FF00019", "tGGG0", "x".repeat(60), "\x07", "z"];

const bare = (lines: string, name: string) =>
  lines.replaceAll(/^\(.*?\) /gm, "").replaceAll(`${name} `, "");

/** The serial adapter beside Linux's own slcan driver, which is given the same bytes. */
export const serialChecks: readonly Check[] = [
  {
    name: "lines of a serial adapter become the frames that the kernel's driver makes of them",
    async run() {
      const sent = randomLines("can0", 2_000, "every kind", 0).trim().split("\n")
        .filter((line) => !/ 2[0-9A-F]{7}#/.test(line)).map(serialLine);
      const random = randomNumbers(7);
      const mixed = sent.flatMap((line, index) => [
        line,
        ...(index % 50 === 0 ? [REPORTS[(index / 50) % REPORTS.length]] : []),
        ...(index % 7 === 0 ? [GARBAGE[random(GARBAGE.length)]] : []),
      ]);
      const bytes = new TextEncoder().encode(`${mixed.join("\r")}\r`);

      const kernels = new PseudoTerminal();
      const discard = (async () => {
        while (await kernels.read() !== undefined);
      })();
      await sh(`slcand -o -s5 ${kernels.device.replace("/dev/", "")} slcan0`);
      await until(
        "slcan0 is there",
        () => sh("ip link set slcan0 up").then(() => true, () => false),
      );
      const witness = await Witness.watch("slcan0");
      await kernels.write(bytes);

      const adapter = new SlcanAdapter(bytes);
      const ours = await Listener.open(`slcan0=slcan:${adapter.device}`);
      const reports = Math.ceil(sent.length / 50);
      await ours.heard(sent.length + reports);
      await ours.stop();
      await adapter.unplug();
      const theirs = await witness.lines(sent.length + reports);
      kernels.unplug();
      await discard;
      sameLines(bare(ours.lines, "slcan0"), bare(theirs, "slcan0"));
      await sh("killall slcand; true");
    },
  },
  {
    name: "a serial device that this user may not read is said with the group that helps",
    async run() {
      const terminal = new PseudoTerminal();
      await sh(`chmod 600 ${terminal.device}`);
      const recorder = asNobody(["record", `slcan:${terminal.device}`, "--folder", "/tmp/nobodys"]);
      await recorder.until(/may not read .*dialout/);
      same(await recorder.interrupt(), 130, "exit code");
      terminal.unplug();
    },
  },
];
