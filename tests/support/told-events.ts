import type { Reader } from "./mosquitto.ts";

/** An event as the broker carries it, as far as tests look at it. */
export interface ToldEvent {
  readonly epoch: string;
  readonly number: number;
  readonly tag: string;
  readonly occurrence: number;
  readonly from: string;
  readonly to: string;
}

/** Events in the order in which a reader had each of them first. */
export function firstTold(reader: Reader, topic: string): ToldEvent[] {
  const events = new Map<string, ToldEvent>();
  for (const { payload } of reader.on(topic)) {
    const event: ToldEvent = JSON.parse(payload);
    const key = `${event.epoch}/${event.number}`;
    if (!events.has(key)) events.set(key, event);
  }
  return [...events.values()];
}
