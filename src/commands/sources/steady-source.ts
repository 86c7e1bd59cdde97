import { type FrameSource, SourceEndedEarly } from "../../bus/frame-source.ts";
import type { SourceEvent } from "../../bus/source-event.ts";
import type { Micros } from "../../ground/time.ts";
import { ClockJumps } from "../../nmea2000/recorded-clock/clock-jumps.ts";

/** How far the wall clock was set since a source was opened, as that source has said. */
export class ClockSteps {
  by: Micros = 0;

  note(event: SourceEvent): void {
    if (event.kind === "clock-step") this.by += event.by;
  }
}

/**
 * A live source whose stamps run on steadily when the wall clock is set. Each source learns of a
 * step at its own time, so each takes it out of its own stamps.
 */
export function steadySource(source: FrameSource, steps: ClockSteps): FrameSource {
  if (!source.live) return source;
  return {
    title: source.title,
    live: true,
    madeUp: source.madeUp,
    lateness: source.lateness,
    stampedHere: source.stampedHere,
    get hasWaiting() {
      return source.hasWaiting;
    },
    counts: source.counts,
    problems: source.problems,
    async *batches() {
      for await (const batch of source.batches()) {
        if (steps.by !== 0) { for (let i = 0; i < batch.count; i++) batch.times[i] -= steps.by; }
        yield batch;
      }
    },
    stop: () => source.stop(),
  };
}

/** A recording that says where its clock was set forward; a live source is what it was. */
export function steadyRecording(source: FrameSource): FrameSource {
  if (source.live) return source;
  const jumps = new ClockJumps();
  return {
    title: source.title,
    live: false,
    get counts() {
      return { ...source.counts, clockJumps: jumps.count, clockJumpedBy: jumps.by };
    },
    get problems() {
      return source.problems;
    },
    get bytesTaken() {
      return source.bytesTaken;
    },
    async *batches() {
      try {
        for await (const batch of source.batches()) yield* jumps.take(batch);
      } catch (error) {
        if (error instanceof SourceEndedEarly) yield* jumps.end();
        throw error;
      }
      yield* jumps.end();
    },
    stop: () => source.stop(),
  };
}
