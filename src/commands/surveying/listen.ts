import type { Boat } from "../../boat/boat.ts";
import { BusNames } from "../../bus/bus-names.ts";
import { type FrameSource, SourceEndedEarly } from "../../bus/frame-source.ts";
import { type Micros, MILLISECOND, SECOND } from "../../ground/time.ts";
import type { RememberedDevice } from "../../nmea2000/device-memory.ts";
import type { SurveyReport } from "../../survey/report-schema.ts";
import { Survey } from "../../survey/survey.ts";
import { sayDuration } from "../../units/duration.ts";
import { Watch } from "../../watch.ts";
import type { Surroundings } from "../command-line/command.ts";
import { LiveFeed } from "../sources/live-feed.ts";
import { openSteadySource } from "../sources/open-steady-source.ts";
import { speakOfEarlyEnd, speakOfSource, stopWhen } from "../sources/read-source.ts";
import { realClock } from "../watching/real-clock.ts";

export interface ListenOrder {
  /** In place of a folder the recordings that lie in it. */
  readonly inputs: readonly string[];
  /** As a person named them. */
  readonly named: readonly string[];
  readonly inputFolder: string;
  readonly boat: Boat;
  /** Live inputs are listened to for so long; recordings only where a person said it. */
  readonly length: { readonly live: Micros; readonly recorded: Micros };
  /** Devices that said who they are when we listened before. */
  readonly remembered?: readonly RememberedDevice[];
}

export interface Listened {
  readonly report: SurveyReport;
  readonly isLive: boolean;
  /** Lines that came and are no frames. */
  readonly malformed: number;
  readonly cut: boolean;
  readonly devices: readonly RememberedDevice[];
}

const PROGRESS_EVERY_MS = 500;
const PASS_EVERY_MS = 100;
/** A survey is in no hurry: on a busy computer frames that wait this long still come in time. */
const PATIENCE: Micros = SECOND;

/** Listens to inputs to their end, or for as long as was said, and reports. */
export async function listen(order: ListenOrder, around: Surroundings): Promise<Listened> {
  const { terminal } = around;
  const busNames = new BusNames();
  const clock = realClock();
  const named = order.named.map((input) => input === "-" ? "standard input" : input);
  const survey = new Survey({ input: named.join(", "), busNames });
  const watch = new Watch({
    boat: order.boat,
    rules: [],
    busNames,
    rememberedDevices: order.remembered,
    onSignals: (signals, by, now) => survey.onSignals(signals, by, now),
  });
  const say = (sentence: string) => terminal.error(sentence);
  const options = { buses: busNames, folder: order.inputFolder, boat: order.boat, say };
  const sources = await Promise.all(
    order.inputs.map((input) => openSteadySource(input, options)),
  );
  stopWhen(around.interrupted, sources);
  const isLive = sources.some(({ live }) => live);
  const length = isLive ? order.length.live : order.length.recorded;
  const begun = clock.steady();
  const live = new LiveFeed(clock, watch);
  live.begin(sources);
  let begins: Micros = NaN;
  let recordedUntil: Micros = -Infinity;
  const early: string[] = [];
  const follow = async (source: FrameSource) => {
    let isFirst = true;
    try {
      for await (const batch of source.batches()) {
        if (batch.count === 0) continue;
        if (source.live) live.take(source, batch);
        if (Number.isNaN(begins)) begins = batch.times[0];
        if (source.live) continue;
        if (isFirst && batch.times[0] < recordedUntil - SECOND) say(beginsTooSoon(source.title));
        isFirst = false;
        const last = begins + length;
        const isOver = batch.times[batch.count - 1] > last;
        if (isOver) {
          batch.count = batch.times.subarray(0, batch.count).findIndex((time) => time > last);
        }
        watch.feed(batch);
        recordedUntil = batch.times[batch.count - 1];
        if (isOver) source.stop();
      }
    } catch (error) {
      if (!(error instanceof SourceEndedEarly)) throw error;
      early.push(error.message);
    }
  };
  const stopLive = () => {
    for (const source of sources) if (source.live) source.stop();
  };
  const end = isLive ? setTimeout(stopLive, length / MILLISECOND) : undefined;
  const progress = setInterval(() => {
    const frames = sources.reduce((sum, { counts }) => sum + counts.frames, 0);
    const heard = `${frames.toLocaleString("en")} frames · ${watch.signals.table.count} signals`;
    const listened = Math.floor((clock.steady() - begun) / SECOND) * SECOND;
    const left = isLive ? ` of ${sayDuration(length)}` : "";
    terminal.status(`Listening, ${sayDuration(listened)}${left} · ${heard}`);
  }, PROGRESS_EVERY_MS);
  const passing = setInterval(() => live.pass(PATIENCE), PASS_EVERY_MS);
  try {
    await Promise.all(sources.filter(({ live }) => live).map(follow));
    for (const source of sources) if (!source.live) await follow(source);
  } finally {
    clearTimeout(end);
    clearInterval(progress);
    clearInterval(passing);
    terminal.status("");
    for (const source of sources) source.stop();
  }
  live.end();
  for (const source of sources) speakOfSource(source, terminal);
  const counts = sources.map((source) => source.counts);
  const report = survey.report(watch, {
    frames: counts.reduce((sum, { frames }) => sum + frames, 0),
    begins,
    ends: watch.timeline.now,
  });
  const malformed = counts.reduce((sum, count) => sum + count.malformed, 0);
  const devices = watch.devices.memory(busNames);
  return { report, isLive, malformed, cut: speakOfEarlyEnd(early, terminal), devices };
}

/** Recordings are read one after the other, whatever their times. */
function beginsTooSoon(title: string): string {
  return `${title} begins before the recording ahead of it ends, and was read after it: what that ` +
    "one tells of seems to have fallen silent. Name recordings in their order; of two buses at one " +
    "time, survey each by itself, or record both into one.";
}
