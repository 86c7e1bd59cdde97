/** Megabytes of a process that lie in memory (VmRSS of proc(5)). Linux only. */
export function memoryOf(pid: number): number {
  const text = Deno.readTextFileSync(`/proc/${pid}/status`);
  return Number(/VmRSS:\s+(\d+)/.exec(text)?.[1] ?? 0) / 1024;
}

export interface MemorySample {
  readonly at: number;
  /** Megabytes. */
  readonly memory: number;
}

/** Megabytes more for each unit of `at`, by least squares. */
export function slopeOf(samples: readonly MemorySample[]): number {
  const mean = (of: (sample: MemorySample) => number) =>
    samples.reduce((sum, sample) => sum + of(sample), 0) / samples.length;
  const [at, memory] = [mean((one) => one.at), mean((one) => one.memory)];
  const rise = samples.reduce((sum, one) => sum + (one.at - at) * (one.memory - memory), 0);
  return rise / samples.reduce((sum, one) => sum + (one.at - at) ** 2, 0);
}
