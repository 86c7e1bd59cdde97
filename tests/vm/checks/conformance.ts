import type { BusNames } from "../../../src/bus/bus-names.ts";
import type { FrameSource } from "../../../src/bus/frame-source.ts";
import { openInput } from "../../../src/bus/open-input.ts";
import { liveParts } from "../../../src/commands/sources/live-parts.ts";
import { realClock } from "../../../src/commands/watching/real-clock.ts";
import { SlcanAdapter } from "../../support/slcan-adapter.ts";
import { conformanceOf } from "../../support/source-conformance.ts";
import type { Check } from "../check.ts";
import { ONLY_LISTENS, switchOn } from "../guest/cards.ts";
import { framesOfLines } from "../guest/frames-of-lines.ts";
import { randomLines } from "../guest/random-lines.ts";
import { serialLine } from "../guest/serial-line.ts";
import { sh } from "../guest/shell.ts";
import { makeVirtual, play } from "../guest/witness.ts";

const VIRTUAL = randomLines("vcan0", 60, "every kind", 0);
/** Error frames are reports of the adapter, which have lines of another form. */
const SERIAL = withoutErrors(VIRTUAL);
/** As few and as slow as the emulated cards take them also on a busy host. */
const CARD = randomLines("can1", 4, "29-bit", 0.05);
/** What an emulated card loses never came to us. */
const CARD_TRIES = 3;
/** A frame that was lost is not waited for. */
const PATIENCE_MS = 20_000;

interface Opening {
  readonly lines: string;
  /** The interface that hears them. */
  readonly bus: string;
  readonly tries?: number;
  readonly before?: () => Promise<unknown>;
  readonly after?: () => Promise<unknown>;
  /** Opens the source, and lets the frames come. */
  readonly open: (buses: BusNames, batchSize: number) => Promise<FrameSource>;
}

/** The suite of all sources, held against this kernel. */
function checksOf(name: string, { lines, bus, tries = 1, before, after, open }: Opening): Check[] {
  const frames = framesOfLines(lines).map((frame) => ({ ...frame, bus }));
  let patience: ReturnType<typeof setTimeout> | undefined;
  const cases = conformanceOf({
    frames,
    endless: true,
    stampsOnArrival: true,
    async open(buses, batchSize) {
      const source = await open(buses, batchSize);
      patience = setTimeout(() => source.stop(), PATIENCE_MS);
      return source;
    },
  });
  return cases.map(({ promise, holds }) => ({
    name: `${name}, as a source of frames: ${promise}`,
    async run() {
      for (let left = tries; left > 0; left--) {
        await before?.();
        try {
          return await holds();
        } catch (error) {
          if (left === 1) throw error;
        } finally {
          clearTimeout(patience);
          await after?.();
        }
      }
    },
  }));
}

const live = liveParts(realClock());

const openCan =
  (name: string, lines: string, pace: "fast" | "as recorded") =>
  async (buses: BusNames, batchSize: number): Promise<FrameSource> => {
    const source = await openInput(`socketcan:${name}`, { buses, folder: "/", batchSize, live });
    await play(lines, pace);
    return source;
  };

/** What it still had to say costs time until it is unplugged. */
let adapter: SlcanAdapter;
let cards: Promise<void> | undefined;

/** Both cards, whatever an earlier check did to them. */
function cardsOn(): Promise<void> {
  return cards ??= (async () => {
    await sh("ip link set can0 down; ip link set can1 down");
    await switchOn("can0", ONLY_LISTENS);
    await switchOn("can1");
  })();
}

/** One conformance suite for all adapters: the same promises as those of recordings and `tcp:`. */
export const conformanceChecks: readonly Check[] = [
  ...checksOf("socketcan:vcan0", {
    lines: VIRTUAL,
    bus: "vcan0",
    before: () => sh("ip link del vcan0 2>/dev/null; true").then(() => makeVirtual("vcan0")),
    open: openCan("vcan0", VIRTUAL, "fast"),
  }),
  ...checksOf("a real driver, socketcan:can0", {
    lines: CARD,
    bus: "can0",
    tries: CARD_TRIES,
    before: cardsOn,
    open: openCan("can0", CARD, "as recorded"),
  }),
  ...checksOf("slcan: on a serial line", {
    lines: SERIAL,
    bus: "vcan0",
    after: () => adapter.unplug(),
    open: (buses, batchSize) => {
      const said = SERIAL.trim().split("\n").map(serialLine).join("\r");
      adapter = new SlcanAdapter(new TextEncoder().encode(`${said}\r`));
      const options = { buses, folder: "/", batchSize, live };
      return openInput(`vcan0=slcan:${adapter.device}`, options);
    },
  }),
];

function withoutErrors(lines: string): string {
  return lines.split("\n").filter((line) => !/ 2[0-9A-F]{7}#/.test(line)).join("\n");
}
