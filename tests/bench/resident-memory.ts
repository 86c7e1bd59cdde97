/** Megabytes of a process that lie in memory (VmRSS of proc(5)). Linux only. */
export function memoryOf(pid: number): number {
  const text = Deno.readTextFileSync(`/proc/${pid}/status`);
  return Number(/VmRSS:\s+(\d+)/.exec(text)?.[1] ?? 0) / 1024;
}

/** The most megabytes that a process has had so far (VmHWM of proc(5)); 0 where it has ended. */
export function mostMemoryOf(pid: number): number {
  try {
    const text = Deno.readTextFileSync(`/proc/${pid}/status`);
    return Number(/VmHWM:\s+(\d+)/.exec(text)?.[1] ?? 0) / 1024;
  } catch (error) {
    if (error instanceof Deno.errors.NotFound) return 0;
    throw error;
  }
}

/** Seconds of work that a process has done so far (utime and stime of proc(5)); 0 where it has ended. */
export function workOf(pid: number): number {
  try {
    const text = Deno.readTextFileSync(`/proc/${pid}/stat`);
    const fields = text.slice(text.lastIndexOf(")") + 2).split(" ");
    return (Number(fields[11]) + Number(fields[12])) / TICKS;
  } catch (error) {
    if (error instanceof Deno.errors.NotFound) return 0;
    throw error;
  }
}

/** A second of sysconf(3)'s _SC_CLK_TCK, on every Linux of today. */
const TICKS = 100;

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
