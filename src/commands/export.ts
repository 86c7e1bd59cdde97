import type { BoatSignals } from "../boat/boat-signals.ts";
import { BusNames } from "../bus/bus-names.ts";
import { CSV_HEADER, csvRows } from "../formats/csv.ts";
import { nearestName } from "../ground/spelling.ts";
import { runsOf } from "../rehearsal/run.ts";
import { Watch } from "../watch.ts";
import type { Command } from "./command-line/command.ts";
import { CommandFailure, ExitCode } from "./command-line/exit-codes.ts";
import { expandInputs } from "./command-line/expand-inputs.ts";
import { openSource } from "./sources/open-source.ts";
import { sourceNews } from "./sources/source-news.ts";
import { BOAT } from "./command-line/options.ts";
import { speakOfEarlyEnd, speakOfSource, stopWhen } from "./sources/read-source.ts";
import { readSetupFiles } from "./settings/setup.ts";

export const exportCommand: Command = {
  name: "export",
  usage: "sternfast export INPUT…",
  description:
    `Prints one line for each value received, in time order: time, signal, value, unit and
quality. The value is empty where the quality is bad. Times are UTC.`,
  examples: [
    "sternfast export trip.log.gz > trip.csv",
    "candump -L can0 | sternfast export - --boat boat.yaml",
  ],
  options: {
    ...BOAT,
    format: { value: "csv", help: "the form of the lines; csv is the only one yet" },
    derived: { help: "also what is worked out aboard, such as engine/port/condition" },
  },
  async run(given, around) {
    const { terminal } = around;
    checkFormat(given.text("format") ?? "csv");
    const setup = await readSetupFiles(given, around);
    if (setup.inputs.length === 0) throw new CommandFailure("export needs a recording: INPUT…");
    const buses = new BusNames();
    const inputs = await expandInputs(setup.inputs, setup.inputFolder, terminal);
    const { boat, inputFolder: folder } = setup;
    const sources = await Promise.all(inputs.map((input) => {
      const told = sourceNews(input, (sentence) => terminal.error(sentence));
      return openSource(input, { buses, folder, boat, told });
    }));
    stopWhen(around.interrupted, sources);

    const derived = given.flag("derived");
    let lines = CSV_HEADER;
    const newWatch = () => {
      const watch: Watch = new Watch({
        boat: setup.boat,
        rules: [],
        busNames: buses,
        onSignals(signals, by, now) {
          const received = by === "message" ? signals.carried() : [];
          const chosen = derived ? [...received, ...freshlyDerived(signals)] : received;
          lines += csvRows(signals.table, chosen, watch.timeline.wallOf(now));
        },
      });
      return watch;
    };
    const encoder = new TextEncoder();
    const print = () => {
      terminal.bytes(encoder.encode(lines));
      lines = "";
    };
    print();
    let code: ExitCode = ExitCode.well;
    for await (const run of runsOf(sources, newWatch, print)) {
      if (speakOfEarlyEnd(run.endedEarly, terminal)) code = ExitCode.wrongInput;
    }
    for (const source of sources) speakOfSource(source, terminal);
    return code;
  },
};

const LATER_FORMATS = ["json-lines", "senml"];

function checkFormat(format: string): void {
  if (format === "csv") return;
  if (LATER_FORMATS.includes(format)) {
    throw new CommandFailure(`--format: ${format} is not in this version; csv is.`);
  }
  const nearest = nearestName(format, ["csv", ...LATER_FORMATS]);
  const meant = nearest === undefined ? "" : `; did you mean ${nearest}?`;
  throw new CommandFailure(`--format: found "${format}", expected csv${meant}`);
}

/** What was worked out from the last message or timer. */
function freshlyDerived({ table }: BoatSignals): number[] {
  return [...table.fresh.subarray(0, table.freshCount)]
    .filter((signal) => table.facts[signal].derived);
}
