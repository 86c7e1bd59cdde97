import type { FrameSource } from "../../bus/frame-source.ts";
import type { Clock } from "../../ground/clock.ts";
import { isoTime, type Micros, SECOND } from "../../ground/time.ts";
import type { BrokerState } from "../../outputs/mqtt/broker-link.ts";
import type { Watch } from "../../watch.ts";
import type { Outlet } from "./gateway.ts";
import type { Terminal } from "../command-line/terminal.ts";

export interface StatusParts {
  readonly watch: Watch;
  readonly sources: readonly FrameSource[];
  readonly terminal: Terminal;
  /** For the pace of writing. */
  readonly clock: Clock;
  readonly broker: () => BrokerState | undefined;
}

/** One calm line that tells a person at the terminal that all is going on, written once a second. */
export function statusLine(parts: StatusParts): Outlet & { words(): string } {
  let nextWrite: Micros = 0;
  return {
    words: () => statusWords(parts, true),
    turn() {
      if (parts.clock.steady() < nextWrite) return;
      nextWrite = parts.clock.steady() + SECOND;
      parts.terminal.status(statusWords(parts, false));
    },
    stop() {
      parts.terminal.status("");
      return Promise.resolve();
    },
  };
}

/** Where nothing is judged there is nothing to be calm about. */
function sayAlarms(rules: number, standing: number): string {
  if (rules === 0) return "nothing is judged";
  if (standing === 0) return "no alarms";
  return `${standing} ${standing === 1 ? "alarm" : "alarms"}`;
}

/** @param whole with the date, for a line that stays */
function statusWords({ watch, sources, broker }: StatusParts, whole: boolean): string {
  const { alarms } = watch;
  const standing = alarms.statuses().filter((status) => status.state !== "normal").length;
  const unjudged = alarms.unjudged().length;
  const parts = [...sayHeard(watch, sources, whole), sayAlarms(alarms.count, standing)];
  if (unjudged > 0) parts.push(`${unjudged} cannot be judged`);
  const link = broker();
  if (link !== undefined) parts.push(`broker ${link.state}`);
  return parts.join(" · ");
}

function sayHeard(
  { timeline, signals, lastFrame }: Watch,
  sources: readonly FrameSource[],
  whole: boolean,
): string[] {
  if (lastFrame === 0) return ["Nothing heard on the bus yet"];
  const frames = sources.reduce((sum, source) => sum + source.counts.frames, 0);
  const [date, time] = isoTime(timeline.wallOf(timeline.now), 3).slice(0, 19).split("T");
  return [
    `${whole ? `${date} ` : ""}${time} UTC`,
    `${frames.toLocaleString("en")} frames`,
    `${signals.table.count} signals`,
  ];
}
