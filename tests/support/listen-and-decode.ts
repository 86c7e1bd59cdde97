/**
 * A process that does nothing but receive and decode a live input: FRAMES of INPUT, or as many as
 * come until it is terminated; `datagrams:PLACE` is the bus of `datagram-bus.ts`. Prints, as JSON, what came and what it cost once it was warm: from the
 * frame after the first WARM-AFTER to the last.
 */
import process from "node:process";
import { UNKNOWN_BOAT } from "../../src/boat/boat.ts";
import { BusNames } from "../../src/bus/bus-names.ts";
import type { SourceEvent } from "../../src/bus/source-event.ts";
import { openSource } from "../../src/commands/sources/open-source.ts";
import { Watch } from "../../src/watch.ts";
import { datagramSource } from "./datagram-bus.ts";

export interface Cost {
  readonly frames: number;
  readonly dropped: number;
  /** Frames a second while it was measured. */
  readonly rate: number;
  /** Frames taken at a time, in the mean. */
  readonly batch: number;
  /** Of wall time, and of one processor's. */
  readonly seconds: number;
  readonly busySeconds: number;
}

/** By then most of the code has been compiled for speed. */
const USUAL_WARM_AFTER = 7_000;

if (import.meta.main) {
  const [input, frames, warmAfter = USUAL_WARM_AFTER] = Deno.args;
  const buses = new BusNames();
  const told = (event: SourceEvent) =>
    void Deno.stderr.writeSync(new TextEncoder().encode(`${JSON.stringify(event)}\n`));
  const [, place] = /^datagrams:(.*)/.exec(input) ?? [];
  const source = place === undefined
    ? await openSource(input, { buses, folder: "/", told })
    : datagramSource(place, buses);
  const watch = new Watch({ boat: UNKNOWN_BOAT, rules: [], busNames: buses });
  Deno.addSignalListener("SIGTERM", () => source.stop());
  let begun:
    | { readonly at: number; readonly busy: NodeJS.CpuUsage; readonly frames: number }
    | undefined;
  let batches = 0;
  for await (const batch of source.batches()) {
    if (begun !== undefined) batches++;
    if (source.counts.frames >= Number(warmAfter)) {
      begun ??= { at: performance.now(), busy: process.cpuUsage(), frames: source.counts.frames };
    }
    watch.feed(batch);
    watch.signals.table.clearTouched();
    if (source.counts.frames + source.counts.dropped >= Number(frames)) source.stop();
  }
  const busy = process.cpuUsage(begun?.busy);
  const seconds = (performance.now() - (begun?.at ?? 0)) / 1_000;
  const measured = source.counts.frames - (begun?.frames ?? 0);
  const cost: Cost = {
    rate: measured / seconds,
    batch: measured / batches,
    frames: source.counts.frames,
    dropped: source.counts.dropped,
    seconds,
    busySeconds: (busy.user + busy.system) / 1_000_000,
  };
  Deno.stdout.writeSync(new TextEncoder().encode(`${JSON.stringify(cost)}\n`));
  Deno.exit(0);
}
