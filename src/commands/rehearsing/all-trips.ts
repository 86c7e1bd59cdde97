import type { TripResult } from "../../rehearsal/trials/trip-result.ts";
import { AskedThread } from "./asked-thread.ts";
import { makeTrip, type TripOrder } from "./trip.ts";

export interface TripsOptions {
  readonly threads: number;
  readonly stopped: AbortSignal;
}

export interface MadeTrip {
  readonly seed: number;
  readonly result: TripResult;
}

/** Makes a trip of each seed, as many at once as there are threads, and yields each when it is over. */
export async function* allTrips(
  order: TripOrder,
  seeds: readonly number[],
  { threads, stopped }: TripsOptions,
): AsyncGenerator<MadeTrip> {
  if (threads < 2 || seeds.length < 2) {
    for (const seed of seeds) {
      if (stopped.aborted) return;
      yield { seed, result: makeTrip(seed, order) };
      // An interrupt is heard between two trips.
      await new Promise((resolve) => setTimeout(resolve));
    }
    return;
  }
  yield* besideEachOther(order, seeds, { threads, stopped });
}

async function* besideEachOther(
  order: TripOrder,
  seeds: readonly number[],
  { threads: most, stopped }: TripsOptions,
): AsyncGenerator<MadeTrip> {
  const place = new URL("./trip-worker.ts", import.meta.url);
  const threads = Array.from(
    { length: Math.min(most, seeds.length) },
    () => new AskedThread<TripOrder, number, TripResult>(place, order),
  );
  const interrupted = Promise.withResolvers<undefined>();
  const stop = () => interrupted.resolve(undefined);
  stopped.addEventListener("abort", stop);
  const waiting = [...seeds];
  const busy = new Map<number, Promise<{ at: number; trip: MadeTrip }>>();
  const begin = (at: number) => {
    const seed = waiting.shift();
    if (seed === undefined) busy.delete(at);
    else busy.set(at, threads[at].ask(seed).then((result) => ({ at, trip: { seed, result } })));
  };
  try {
    for (const at of threads.keys()) begin(at);
    while (busy.size > 0 && !stopped.aborted) {
      const done = await Promise.race([...busy.values(), interrupted.promise]);
      if (done === undefined) return;
      begin(done.at);
      yield done.trip;
    }
  } finally {
    stopped.removeEventListener("abort", stop);
    for (const thread of threads) thread.drop();
  }
}
