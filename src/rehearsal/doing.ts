import type { SignalTable } from "../boat/signal-table.ts";
import { Quality } from "../boat/quality.ts";
import { say } from "../units/say.ts";
import type { OwnersUnits } from "../units/units.ts";

/** What the boat was doing at one instant; kept as numbers until somebody asks for the words. */
export interface Doing {
  readonly engines: readonly {
    readonly name: string;
    /** NaN while not known. */
    readonly speed: number;
    readonly condition: string;
  }[];
  /** Over ground, m/s; NaN while not known. */
  readonly way: number;
}

/** Looks at what the boat is doing, second by second; names are looked up once. */
export class DoingLook {
  #engines: readonly { name: string; speed: number; condition: number }[] = [];
  #way = -1;
  #known = -1;

  constructor(readonly table: SignalTable) {}

  now(): Doing {
    const { table } = this;
    if (table.count !== this.#known) this.#lookUp();
    return {
      engines: this.#engines.map(({ name, speed, condition }) => ({
        name,
        speed: known(table, speed),
        condition: condition < 0 ? "" : table.word(condition) ?? "",
      })),
      way: known(table, this.#way),
    };
  }

  #lookUp(): void {
    const { table } = this;
    this.#known = table.count;
    this.#way = table.find("speed/over-ground");
    this.#engines = table.subjectsOf("engine").map((name) => ({
      name,
      speed: table.find(`engine/${name}/speed`),
      condition: table.find(`engine/${name}/condition`),
    }));
  }
}

/** `port running at 2,200 rpm, starboard stopped, 6.1 kn`; empty where nothing is known. */
export function doingWords({ engines, way }: Doing, owners: OwnersUnits): string {
  const parts = engines.filter(({ condition }) => condition !== "").map((engine) => {
    const { name, speed, condition } = engine;
    const turns = speed > 0 ? ` at ${say(speed, "1/min", owners)}` : "";
    return `${name} ${condition.replace("stopped-presumed", "stopped")}${turns}`;
  });
  if (!Number.isNaN(way)) parts.push(say(way, "m/s", owners));
  return parts.join(", ");
}

function known(table: SignalTable, signal: number): number {
  return signal < 0 || table.qualities[signal] !== Quality.good ? NaN : table.values[signal];
}
