import type { Check } from "../check.ts";
import { ONLY_LISTENS, switchOn } from "../guest/cards.ts";
import { Listener } from "../guest/listener.ts";
import { randomLines } from "../guest/random-lines.ts";
import { same, sameLines, sh, until } from "../guest/shell.ts";
import { play, Witness } from "../guest/witness.ts";

/** As many as the emulated cards take without a jam, when the host has time for them. */
const FRAMES = 100;

/** How candump writes the identifier of an error frame. */
const ERROR_FRAME = "2";

/** The emulated cards can0 and can1, on one bus, with Linux's driver for real ones. */
export const realDriverChecks: readonly Check[] = [
  {
    name: "frames of a real driver come out as candump writes them",
    async run() {
      await switchOn("can0", ONLY_LISTENS);
      await switchOn("can1");
      const witness = await Witness.watch("can0");
      const ours = await Listener.open("socketcan:can0");
      const sent = randomLines("can1", FRAMES, "29-bit", 0.02);
      await play(sent, "as recorded");
      const theirs = await witness.lines(FRAMES);
      const bare = (text: string) => text.trimEnd().split("\n").map((line) => line.split(" ")[2]);
      await ours.heard(bare(theirs).length);
      await ours.stop();
      sameLines(ours.lines, theirs);
      // What an emulated card loses on a busy host never came to the driver, which reports an overrun.
      const data = bare(theirs).filter((frame) => !frame.startsWith(ERROR_FRAME));
      const came = new Set(data);
      same(data, bare(sent).filter((frame) => came.has(frame)), "frames");
      if (came.size < FRAMES / 2) throw new Error(`only ${came.size} of ${FRAMES} frames came`);
    },
  },
  {
    name: "a real card that is unplugged and plugged in again is heard again",
    async run() {
      const ours = await Listener.open("socketcan:can0");
      const place = (await sh("readlink -f /sys/class/net/can0/device")).trim();
      await sh(`echo 1 > ${place}/remove`);
      await until("the loss is told", () => ours.kinds.includes("lost"));
      await sh("echo 1 > /sys/bus/pci/rescan");
      await until("can0 is back", () => sh("ip link show can0").then(() => true, () => false));
      await switchOn("can0", ONLY_LISTENS);
      await until(
        "it connects again",
        () => ours.kinds.filter((kind) => kind === "connected").length === 2,
      );
      await sh("cansend can1 18FF0001#0102");
      await ours.heard(1);
      await ours.stop();
      same(ours.frames, 1, "frames");
    },
  },
];
