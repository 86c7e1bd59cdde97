import type { LineMeasured, LineWanted } from "./line-worker.ts";

/** Measures one line of a bench in a thread of its own. */
export function measureLine(wanted: LineWanted): Promise<LineMeasured> {
  const worker = new Worker(new URL("./line-worker.ts", import.meta.url), { type: "module" });
  const { promise, resolve, reject } = Promise.withResolvers<LineMeasured>();
  worker.onmessage = ({ data }: MessageEvent<LineMeasured>) => {
    worker.terminate();
    resolve(data);
  };
  worker.onerror = (event) => reject(new Error(event.message));
  worker.postMessage(wanted);
  return promise;
}
