/**
 * `deno run -A tests/bench/latency.ts`: how late a subscriber has what the bus says, beside a bare
 * MQTT client that is handed the same at the same instants; what `run` costs on a full bus; and what
 * the line carries in a day. It prints, people judge.
 */
import { HOUR } from "../../src/ground/time.ts";
import { Mosquitto } from "../support/mosquitto.ts";
import { measureBytes } from "./mqtt/daily-bytes.ts";
import { measureDelivery } from "./mqtt/delivery.ts";
import { measureRun } from "./mqtt/run-cost.ts";

const seconds = Number(Deno.args[0] ?? 20);
const broker = await Mosquitto.start();
try {
  await measureDelivery(broker.url, 200, 2); // warms everything up
  for (const rate of [50, 500]) {
    const { ours, bare, sent } = await measureDelivery(broker.url, rate, seconds);
    say(
      `${rate} messages/s, ${sent} handed over, ${ours.length} heard of ours, ${bare.length} bare`,
    );
    for (const [title, delays] of [["bare client", bare], ["Sternfast", ours]] as const) {
      say(`  ${title.padEnd(12)} p50 ${at(delays, 0.5)} ms   p99 ${at(delays, 0.99)} ms`);
    }
  }
  const { processor, memory, slope, framesPerSecond } = await measureRun(broker.url, 5 * seconds);
  say(
    `run on a full bus, ${Math.round(framesPerSecond)} frames/s: ${processor.toFixed(1)} % of a ` +
      `core, ${Math.round(memory)} MB, ${slope.toFixed(1)} MB a minute more`,
  );
  for (const [title, scenario] of [["moored", "quiet-mooring"], ["cruising", "harbour-day"]]) {
    const { hours, values, history, everyValue } = await measureBytes(scenario, HOUR);
    say(
      `${title} (${scenario}, ${hours.toFixed(1)} h): values ${mega(values)} and history ` +
        `${mega(history)} MB a day, beside ${mega(everyValue)} MB for every value ` +
        `(${Math.round(everyValue / (values + history))} times)`,
    );
  }
} finally {
  await broker.stop();
}
Deno.exit();

function at(sorted: Float64Array, share: number): string {
  return (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN).toFixed(2);
}

function mega(bytes: number): string {
  return (bytes / 1e6).toFixed(1);
}

function say(line: string): void {
  Deno.stdout.writeSync(new TextEncoder().encode(`${line}\n`));
}
