import { CommandFailure } from "../command-line/exit-codes.ts";
import { followRun, type RunOrder, type RunReport } from "./rehearsed-run.ts";
import type { RunReply } from "./run-reply.ts";
import { OtherThread, RunThread, ThisThread } from "./run-thread.ts";

export interface RunsOptions {
  readonly threads: number;
  readonly stopped: AbortSignal;
  /**
   * By input: how much more time than its size explains lies between it and the one before. What
   * surely begins a run is followed first.
   */
  readonly gaps: readonly number[];
  /** By input: bytes on the disk, 0 where that is not known. */
  readonly sizes: readonly number[];
  /** Told how many bytes of all inputs have been followed so far. */
  readonly onProgress?: (bytes: number) => void;
}

/**
 * Follows every run and yields their reports in order. With one thread they are followed here, one
 * after another. With more, this one among them, each begins where a run may begin: only the one
 * before can tell whether its end meets the next, so what turns out to have been a run's middle is
 * thrown away.
 */
export async function* allRuns(
  order: RunOrder,
  options: RunsOptions,
): AsyncGenerator<RunReport> {
  const isAlone = options.threads < 2 || order.inputs.length < 2 || order.memory !== null;
  if (isAlone) yield* oneByOne(order, options);
  else yield* besideEachOther(order, options);
}

async function* oneByOne(order: RunOrder, options: RunsOptions): AsyncGenerator<RunReport> {
  const { stopped, sizes, onProgress } = options;
  let { memory } = order;
  let behind = 0;
  for (let first = 0; first < order.inputs.length && !stopped.aborted;) {
    const report = await followRun(
      { ...order, memory },
      first,
      stopped,
      (bytes) => onProgress?.(behind + bytes),
    );
    memory = report.memory;
    behind += bytesOf(report, sizes);
    onProgress?.(behind);
    yield report;
    first = report.next;
  }
}

async function* besideEachOther(order: RunOrder, options: RunsOptions): AsyncGenerator<RunReport> {
  const { stopped, gaps, sizes, onProgress } = options;
  const count = order.inputs.length;
  const threads = Array.from(
    { length: Math.min(options.threads, count) },
    (_, i) => new RunThread(i === 0 ? new ThisThread(order) : new OtherThread(order), reach),
  );
  let behind = 0;

  /** What is behind, what waits for its turn, and how far each thread has come. */
  function reach(): void {
    let bytes = behind;
    for (const reply of replies.values()) {
      if (reply.kind === "report") bytes += bytesOf(reply.report, sizes);
    }
    onProgress?.(threads.reduce((sum, { reached }) => sum + reached, bytes));
  }

  const likely = [...gaps.keys()].sort((a, b) => gaps[b] - gaps[a] || a - b);
  const replies = new Map<number, RunReply>();
  let next = 0;
  const interrupted = Promise.withResolvers<undefined>();
  const stop = () => interrupted.resolve(undefined);
  stopped.addEventListener("abort", stop);

  /** Where an idle thread begins: where the order waits, else where a run most likely begins. */
  function choose(): number | undefined {
    const taken = new Set(threads.map((thread) => thread.first));
    const isOpen = (first: number) => first >= next && !replies.has(first) && !taken.has(first);
    return next < count && isOpen(next) ? next : likely.find(isOpen);
  }

  try {
    while (next < count && !stopped.aborted) {
      const ready = replies.get(next);
      if (ready?.kind === "refused") throw new CommandFailure(ready.message);
      if (ready !== undefined) {
        next = ready.report.next;
        for (const first of replies.keys()) if (first < next) replies.delete(first);
        for (const thread of threads) if (thread.first >= 0 && thread.first < next) thread.letGo();
        behind += bytesOf(ready.report, sizes);
        reach();
        yield ready.report;
        continue;
      }
      for (const thread of threads) {
        const first = thread.first < 0 ? choose() : undefined;
        if (first !== undefined) thread.begin(first);
      }
      const replying = threads.flatMap((thread) => thread.reply ?? []);
      const reply = await Promise.race([...replying, interrupted.promise]);
      if (reply !== undefined) replies.set(firstOf(reply), reply);
    }
  } finally {
    stopped.removeEventListener("abort", stop);
    for (const thread of threads) thread.letGo();
  }
}

function firstOf(reply: RunReply): number {
  return reply.kind === "report" ? reply.report.first : reply.first;
}

function bytesOf({ first, next }: RunReport, sizes: readonly number[]): number {
  return sizes.slice(first, next).reduce((sum, size) => sum + size, 0);
}
