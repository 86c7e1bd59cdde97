import type { AlarmChange } from "../alarms/change.ts";
import { type FrameSource, SourceEndedEarly } from "../bus/frame-source.ts";
import { type Micros, SECOND } from "../ground/time.ts";
import type { Watch } from "../watch.ts";

/** One run: recordings whose ends meet, watched from a cold start. */
export interface Run {
  readonly watch: Watch;
  readonly titles: readonly string[];
  /** Wall times of its first and last frame. */
  readonly begins: Micros;
  readonly ends: Micros;
  readonly changes: readonly AlarmChange[];
  /** Sentences about recordings of the run that end before they should. */
  readonly endedEarly: readonly string[];
}

/** Recordings whose ends meet within this time were one before they were cut (contract §1). */
const MEETING: Micros = 2 * SECOND;

/**
 * Takes recordings in time order and yields each run when it is over. A recording that begins where
 * the one before it ended goes on in the same run, so that a rotated file cuts nothing.
 * @param newWatch a cold start
 * @param onChanges told of changes as they come, batch by batch
 */
export async function* runsOf(
  sources: readonly FrameSource[],
  newWatch: () => Watch,
  onChanges: (changes: readonly AlarmChange[]) => void = () => {},
): AsyncGenerator<Run> {
  let run: OpenRun | undefined;
  for (const source of sources) {
    let first = true;
    try {
      for await (const batch of source.batches()) {
        if (batch.count === 0) continue;
        const begins = batch.times[0];
        if (first && run !== undefined && Math.abs(begins - run.ends) > MEETING) {
          yield run;
          run = undefined;
        }
        run ??= openRun(newWatch(), begins);
        if (first) run.titles.push(source.title);
        first = false;
        run.watch.feed(batch);
        run.ends = batch.times[batch.count - 1];
        const changes = run.watch.takeChanges();
        for (const change of changes) run.changes.push(change);
        onChanges(changes);
      }
    } catch (error) {
      if (!(error instanceof SourceEndedEarly)) throw error;
      run ??= openRun(newWatch(), 0);
      run.endedEarly.push(error.message);
    }
  }
  if (run !== undefined) yield run;
}

interface OpenRun extends Run {
  readonly titles: string[];
  ends: Micros;
  readonly changes: AlarmChange[];
  readonly endedEarly: string[];
}

function openRun(watch: Watch, begins: Micros): OpenRun {
  return { watch, titles: [], begins, ends: begins, changes: [], endedEarly: [] };
}
