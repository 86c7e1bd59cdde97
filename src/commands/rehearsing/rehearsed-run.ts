import type { AlarmRecord } from "../../alarms/alarm-record.ts";
import type { Boat } from "../../boat/boat.ts";
import type { Rule } from "../../alarms/rules/rule.ts";
import { BusNames } from "../../bus/bus-names.ts";
import type { Micros } from "../../ground/time.ts";
import type { FrameSource, SourceCounts, SourceProblem } from "../../bus/frame-source.ts";
import { memoryFor } from "../../rehearsal/hidden-memory.ts";
import { isHidden } from "../../rehearsal/hidden-rules.ts";
import { Traces } from "../../rehearsal/traces.ts";
import { stoodBefore } from "../../rehearsal/stood-before.ts";
import { runsOf } from "../../rehearsal/run.ts";
import type { RunRecord } from "../../rehearsal/run-record.ts";
import { FrameTrial } from "../../rehearsal/trial.ts";
import { type Answering, Watch } from "../../watch.ts";
import { openSource } from "../sources/open-source.ts";
import { answeringOf, type Answers, boatStateOf, inVainOf } from "./answering.ts";

/** What every run of a rehearsal shares; plain data, since it goes to other threads. */
export interface RunOrder {
  readonly inputs: readonly string[];
  readonly folder: string;
  readonly boat: Boat;
  /** The owner's, and hidden ones. */
  readonly rules: readonly Rule[];
  readonly answers: Answers;
  /** Remember what a report draws. */
  readonly tracing: boolean;
  /** What the alarms remember of the run before; null: every run starts cold. */
  readonly memory: readonly AlarmRecord[] | null;
}

/** The run that begins with one input. */
export interface RunReport {
  readonly first: number;
  /** The input that begins the next run. */
  readonly next: number;
  /** Null where no frame was found. */
  readonly record: RunRecord | null;
  /** What each of its inputs has met. */
  readonly sources: readonly SourceReport[];
  /** Recorded answers that changed nothing, as sentences. */
  readonly inVain: readonly string[];
  /** What the alarms remember at its end; null where nobody asks. */
  readonly memory: readonly AlarmRecord[] | null;
}

export interface SourceReport {
  readonly title: string;
  readonly counts: SourceCounts;
  readonly problems: readonly SourceProblem[];
}

/** Bytes that take a few tenths of a second. */
const WORTH_TELLING = 1_000_000;

/**
 * Follows recordings from one on until the next begins another run.
 * @param onReach told now and then how many bytes of its recordings were read
 * @throws {CommandFailure} where an input cannot be opened
 */
export async function followRun(
  order: RunOrder,
  first: number,
  stopped: AbortSignal,
  onReach: (bytes: number) => void = () => {},
): Promise<RunReport> {
  const opened: FrameSource[] = [];
  let reached = 0;
  const reach = () => {
    const bytes = opened.reduce((sum, { bytesTaken }) => sum + (bytesTaken ?? 0), 0);
    if (bytes - reached >= WORTH_TELLING) onReach(reached = bytes);
  };
  const buses = new BusNames();
  let answering: Answering | undefined;
  const newTrial = (begins: Micros) => {
    answering = answeringOf(order.answers, begins, order.memory ?? []);
    return new FrameTrial(
      new Watch({
        boat: order.boat,
        rules: order.rules,
        busNames: buses,
        memory: order.memory === null ? undefined : memoryFor(order.rules, order.memory),
        answering,
        boatState: boatStateOf(order.answers, begins),
      }),
      order.boat.units,
      order.tracing ? new Traces(order.rules.filter((rule) => !isHidden(rule))) : null,
      stoodBefore(order.memory ?? [], order.rules, begins),
    );
  };
  const runs = runsOf(
    sourcesFrom(order, first, buses, opened, stopped),
    newTrial,
    reach,
  );
  for await (const run of runs) {
    const next = first + run.next;
    const { alarms, timeline } = run.follower.watch;
    return {
      first,
      next,
      record: run.follower.record(run),
      sources: opened.slice(0, run.next).map(reportOf),
      inVain: inVainOf(answering),
      memory: order.memory && alarms.memory(timeline.now),
    };
  }
  return {
    first,
    next: order.inputs.length,
    record: null,
    sources: opened.map(reportOf),
    inVain: [],
    memory: order.memory,
  };
}

/** Opens each recording when the one before it is over. */
async function* sourcesFrom(
  order: RunOrder,
  first: number,
  buses: BusNames,
  opened: FrameSource[],
  stopped: AbortSignal,
): AsyncGenerator<FrameSource> {
  const { inputs, folder } = order;
  for (let i = first; i < inputs.length && !stopped.aborted; i++) {
    // Standard input can be read only once: it is never looked into and put back.
    if (i > first && inputs[i] === "-") return;
    const source = await openSource(inputs[i], { buses, folder });
    opened.push(source);
    const stop = () => source.stop();
    stopped.addEventListener("abort", stop);
    yield source;
    stopped.removeEventListener("abort", stop);
  }
}

function reportOf({ title, counts, problems }: FrameSource): SourceReport {
  return { title, counts, problems };
}
