import type { Boat } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { runsOf } from "../../rehearsal/run.ts";
import { Watch } from "../../watch.ts";
import type { Surroundings } from "../command-line/command.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { expandInputs } from "../command-line/expand-inputs.ts";
import { openSource } from "../sources/open-source.ts";
import { speakOfEarlyEnd, speakOfSource, stopWhen } from "../sources/read-source.ts";

/**
 * Whole names of all signals that recordings bring, and of what is worked out from them.
 * @throws {CommandFailure} for an input that cannot be opened, or has no end
 */
export async function signalsHeard(
  inputs: readonly string[],
  boat: Boat,
  { terminal, folder, interrupted }: Surroundings,
): Promise<ReadonlySet<string>> {
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
  const heard = new Set<string>();
  for await (const run of runsOf(sources, () => new Watch({ boat, rules: [], busNames: buses }))) {
    const { table } = run.follower.signals;
    table.facts.forEach(({ name, derived }, signal) => {
      if (derived || table.heardAt(signal) > 0) heard.add(name);
    });
    speakOfEarlyEnd(run.endedEarly, terminal);
  }
  for (const source of sources) speakOfSource(source, terminal);
  return heard;
}
