import { initWasm, Resvg } from "@resvg/resvg-wasm";
import type { AlarmStatus } from "../../alarms/change.ts";
import { signalWords } from "../../alarms/signal-words.ts";
import type { Boat } from "../../boat/boat.ts";
import type { RecentValues } from "../../boat/recent-values.ts";
import { drawRecentPicture } from "../../drawing/recent-picture.ts";
import { type Micros, MINUTE } from "../../ground/time.ts";
import type { PhoneMessage } from "../../outputs/phones/way.ts";
import type { MailPicture } from "../../outputs/phones/ways/mail-way.ts";
import { clockWords } from "../../outputs/phones/words/clock-words.ts";
import { say } from "../../units/say.ts";

export interface MailPictureParts {
  readonly boat: Boat;
  readonly recent: RecentValues;
  readonly statuses: () => readonly AlarmStatus[];
  readonly wallOf: (steady: Micros) => Micros;
}

/** What the signal of an alarm did in the last ten minutes, for its mail. */
export function mailPicture({ boat, recent, statuses, wallOf }: MailPictureParts) {
  return async ({ signal }: PhoneMessage): Promise<MailPicture | null> => {
    const course = recent.of(signal);
    const { table } = recent;
    const facts = table.facts[table.find(signal)];
    // A word or a switch has no course to draw.
    if (course === undefined || facts.words !== null || facts.unit === "1") return null;
    const limit = statuses().find((status) => status.signal === signal && status.state !== "normal")
      ?.setpoint ?? null;
    const svg = drawRecentPicture({ ...course, limit, tick: MINUTE });
    if (svg === undefined) return null;
    const known = course.values.filter((value) => !Number.isNaN(value));
    const saying = (value: number) => say(value, facts.unit, boat.units);
    const [from, to] = [course.times[0], course.times[course.times.length - 1]].map(wallOf);
    const clock = (time: Micros) => clockWords(time, to, boat.timeZone);
    const words =
      `The picture: ${signalWords(signal)} from ${clock(from)} to ${clock(to)}, between ` +
      `${saying(Math.min(...known))} and ${saying(Math.max(...known))}, a tick a minute` +
      `${limit === null ? "" : `; the dashed line is its limit, ${saying(limit)}`}.`;
    return { png: await asPng(svg), words };
  };
}

let ready: Promise<void> | undefined;

async function asPng(svg: string): Promise<Uint8Array> {
  ready ??= Deno.readFile(new URL(import.meta.resolve("@resvg/resvg-wasm/index_bg.wasm")))
    .then((bytes) => initWasm(bytes));
  await ready;
  return new Resvg(svg).render().asPng();
}
