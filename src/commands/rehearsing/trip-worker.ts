/// <reference lib="deno.worker" />
import type { Asked, Told } from "./asked-thread.ts";
import type { TripResult } from "../../rehearsal/trials/trip-result.ts";
import { makeTrip, type TripOrder } from "./trip.ts";

/** One thread of sea trials: told the order once, it makes the trips that it is asked for. */
let order: TripOrder | undefined;

self.onmessage = ({ data }: MessageEvent<Asked<TripOrder, number>>) => {
  if ("order" in data) order = data.order;
  else if (order === undefined) throw new TypeError("no order was given");
  else {
    const told: Told<TripResult> = { reply: makeTrip(data.question, order) };
    self.postMessage(told);
  }
};
