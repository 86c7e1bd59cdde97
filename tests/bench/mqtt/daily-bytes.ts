import { BusNames } from "../../../src/bus/bus-names.ts";
import { openSource } from "../../../src/commands/sources/open-source.ts";
import { rulesOf } from "../../../src/commands/settings/read-boat.ts";
import { readTextFiles } from "../../../src/commands/command-line/text-file.ts";
import { readBoatFile } from "../../../src/boat/boat-file.ts";
import { DAY, type Micros, MILLISECOND } from "../../../src/ground/time.ts";
import { fittingSheets, historyPack } from "../../../src/outputs/mqtt/history-payload.ts";
import { USUAL_REPORT } from "../../../src/outputs/mqtt/mqtt-outlet.ts";
import { RetainedTopics } from "../../../src/outputs/mqtt/retained-topics.ts";
import { signalPayload } from "../../../src/outputs/mqtt/signal-payload.ts";
import { SignalReport } from "../../../src/outputs/mqtt/signal-report.ts";
import { USUAL_PLAN } from "../../../src/store/history-plan.ts";
import { HistoryRecorder } from "../../../src/store/history-recorder.ts";
import { MemoryHistory } from "../../../src/store/memory-history.ts";
import { Watch } from "../../../src/watch.ts";
import { ROOT } from "../../support/sternfast.ts";

export interface DailyBytes {
  readonly hours: number;
  /** Bytes a day, as MQTT packets. */
  readonly values: number;
  readonly history: number;
  readonly everyValue: number;
}

const TURN: Micros = 100 * MILLISECOND;
const BASE = "sternfast/hazel-comfort/";
const EXAMPLE = `${ROOT}/examples/hazel-comfort`;

/** What a scenario of the example boat costs on the line in a day, scaled up from what it lasts. */
export async function measureBytes(scenario: string, most: Micros): Promise<DailyBytes> {
  const { boat } = readBoatFile("boat.yaml", Deno.readTextFileSync(`${EXAMPLE}/boat.yaml`));
  const { rules } = rulesOf(await readTextFiles(`${EXAMPLE}/rules`, ROOT));
  const buses = new BusNames();
  if (boat === undefined || rules === undefined) throw new Error("the example is not right");
  let everyValue = 0;
  const watch = new Watch({
    boat,
    rules,
    busNames: buses,
    onSignals(signals, by, now) {
      recorder.take(now);
      if (by === "timer") return;
      for (const signal of signals.carried()) {
        const payload = signalPayload(signals.table, signal, (steady) => steady);
        everyValue += packetSize(signals.table.facts[signal].name, payload, 0);
      }
    },
  });
  const recorder = new HistoryRecorder({
    table: watch.signals.table,
    plan: USUAL_PLAN,
    isNamed: (signal) => watch.alarms.isNamed(signal),
    wallOf: (steady) => steady,
  });
  const history = new MemoryHistory();
  const report = new SignalReport(
    watch.signals.table,
    USUAL_REPORT,
    new RetainedTopics(BASE, new Map()),
  );
  let values = 0;
  const turn = (now: Micros) => {
    for (const { topic, payload } of report.messages({ now, wallOf: (steady) => steady })) {
      values += packetSize(topic, payload, 0);
    }
    watch.signals.table.clearTouched();
    watch.takeChanges();
    recorder.reach(now);
  };

  const source = await openSource(`simulator:${scenario}`, { buses, folder: ROOT });
  let began = 0;
  let due = 0;
  for await (const batch of source.batches()) {
    if (batch.count === 0) continue;
    watch.feed(batch);
    const { now } = watch.timeline;
    began ||= now;
    if (now >= due) {
      turn(now);
      due = now + TURN;
      for (const { records } of recorder.drain()) await history.add(records, false);
    }
    if (now - began >= most) break;
  }
  source.stop();
  const length = watch.timeline.now - began;
  const scale = DAY / length;
  return {
    hours: length / DAY * 24,
    values: values * scale,
    history: (await packedSize(history)) * scale,
    everyValue: everyValue * scale,
  };
}

async function packedSize(history: MemoryHistory): Promise<number> {
  let size = 0;
  for (let mark = 0; mark < history.lastSheet;) {
    const sheets = await history.sheetsAfter(mark, 16);
    const fitting = fittingSheets(BASE, "0123456789abcdef", sheets, 15);
    size += packetSize("history/pack", historyPack(BASE, "0123456789abcdef", fitting), 1);
    mark = fitting[fitting.length - 1].number;
  }
  return size;
}

/** A PUBLISH packet of MQTT 5 (§3.3) and its TCP and IP headers. */
function packetSize(topic: string, payload: string, qos: 0 | 1): number {
  const body = 2 + BASE.length + topic.length + (qos === 1 ? 2 : 0) + 1 + payload.length;
  return 1 + (body < 128 ? 1 : body < 16_384 ? 2 : 3) + body + 40;
}
