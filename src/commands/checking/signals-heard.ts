import type { Heard } from "../../alarms/rules/never-sent.ts";
import type { Boat } from "../../boat/boat.ts";
import type { BoatSignals } from "../../boat/boat-signals.ts";
import { Reason } from "../../boat/quality.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { runsOf } from "../../rehearsal/run.ts";
import { Watch } from "../../watch.ts";
import type { Surroundings } from "../command-line/command.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { expandInputs } from "../command-line/expand-inputs.ts";
import { openSource } from "../sources/open-source.ts";
import { speakOfEarlyEnd, speakOfSource, stopWhen } from "../sources/read-source.ts";

/**
 * All signals that recordings bring, and what is worked out from them.
 * @throws {CommandFailure} for an input that cannot be opened, or has no end
 */
export async function signalsHeard(
  inputs: readonly string[],
  boat: Boat,
  { terminal, folder, interrupted }: Surroundings,
): Promise<Heard> {
  const buses = new BusNames();
  const sources = await Promise.all(
    (await expandInputs(inputs, folder, terminal))
      .map((input) => openSource(input, { buses, folder })),
  );
  stopWhen(interrupted, sources);
  const live = sources.find((source) => source.live);
  if (live !== undefined) {
    for (const source of sources) source.stop();
    throw new CommandFailure(`--heard needs a recording, and ${live.title} has no end.`);
  }
  const heard = new Map<string, boolean>();
  const newWatch = () => {
    const onSignals = ({ table }: BoatSignals) => noteFilled(table, heard);
    return new Watch({ boat, rules: [], busNames: buses, onSignals });
  };
  for await (const run of runsOf(sources, newWatch)) {
    const { table } = run.follower.signals;
    table.facts.forEach(({ name, derived }, signal) => {
      if (derived) heard.set(name, true);
      else if (table.heardAt(signal) > 0 && !heard.has(name)) heard.set(name, false);
    });
    speakOfEarlyEnd(run.endedEarly, terminal);
  }
  for (const source of sources) speakOfSource(source, terminal);
  return heard;
}

/** Those of the last message that hold something, in whatever quality. */
function noteFilled(
  { fresh, freshCount, facts, reasons }: SignalTable,
  heard: Map<string, boolean>,
) {
  for (const signal of fresh.subarray(0, freshCount)) {
    const isFilled = reasons[signal] !== Reason.notAvailable &&
      reasons[signal] !== Reason.notHeard;
    if (isFilled) heard.set(facts[signal].name, true);
  }
}
