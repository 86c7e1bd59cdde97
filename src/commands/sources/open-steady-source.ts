import type { FrameSource } from "../../bus/frame-source.ts";
import type { SourceEvent } from "../../bus/source-event.ts";
import type { Micros } from "../../ground/time.ts";
import { openSource, type OpenSourceOptions } from "./open-source.ts";
import { sourceNews } from "./source-news.ts";
import { ClockSteps, steadySource } from "./steady-source.ts";

export interface OpenSteadySourceOptions extends Omit<OpenSourceOptions, "told"> {
  /** Told in sentences what befalls a live input. */
  readonly say: (sentence: string) => void;
  /** Told how far the wall clock was set since the source was opened, each time that it is set. */
  readonly onStep?: (by: Micros) => void;
}

/**
 * Opens what is judged and surveyed: time runs on steadily where a clock is set, and what befalls
 * the input is said. What is recorded keeps the stamps of its own clock.
 * @throws {CommandFailure}
 */
export async function openSteadySource(
  input: string,
  { say, onStep, ...options }: OpenSteadySourceOptions,
): Promise<FrameSource> {
  const steps = new ClockSteps();
  const news = sourceNews(input === "-" ? "standard input" : input, say);
  const told = (event: SourceEvent) => {
    steps.note(event);
    if (event.kind === "clock-step") onStep?.(steps.by);
    news(event);
  };
  return steadySource(await openSource(input, { ...options, told }), steps);
}
