import { type Micros, MILLISECOND } from "../../ground/time.ts";

/** Resolves after a length of time, or at once when `cut`. */
export async function wait(length: Micros, cut?: AbortSignal): Promise<void> {
  if (cut?.aborted) return;
  await new Promise<void>((resolve) => {
    const timer = setTimeout(resolve, length / MILLISECOND);
    cut?.addEventListener("abort", () => {
      clearTimeout(timer);
      resolve();
    }, { once: true });
  });
}
