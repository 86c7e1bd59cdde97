import { type Micros, MILLISECOND, MINUTE, parseIsoTime } from "../ground/time.ts";
import { type HoursOfDay, hoursOfName, isWithin, minutesUntil } from "./hours-of-day.ts";
import { Quality, Reason } from "./quality.ts";
import type { SignalTable } from "./signal-table.ts";

/** Before this nobody can have told the clock the time: it counts from 1970. */
const EARLIEST: Micros = parseIsoTime("2000-01-01T00:00:00Z") ?? 0;
/** Clocks are put forward and back at whole or half hours of UTC. */
const HALF_HOUR: Micros = 30 * MINUTE;

interface Followed {
  readonly signal: number;
  readonly hours: HoursOfDay;
}

/**
 * Signals that are on in certain hours of the boat's own clock, for rules that ask for the time of
 * the day; not known while the clock is not set. They change at the very instant at which such hours
 * begin and end. No message carries them, so that none of them ages.
 *
 * Order of calls: `follow` before rules judge; `runTimer` when `nextDue` is reached.
 */
export class TimeOfDay {
  nextDue: Micros = Infinity;
  /** Made when the first such hours are asked for: it takes some hundredths of a second. */
  #format: Intl.DateTimeFormat | undefined;
  readonly #followed: Followed[] = [];
  /** What the wall clock was ahead of steady time when it was last looked at. */
  #ahead = NaN;

  constructor(
    readonly table: SignalTable,
    readonly timeZone: string,
    readonly wallOf: (steady: Micros) => Micros,
  ) {}

  /** Makes the signals of these names, where they are such hours; those that are there stay. */
  begin(names: Iterable<string>): void {
    for (const name of names) {
      const hours = hoursOfName(name);
      if (hours === null || this.table.find(name) >= 0) continue;
      const signal = this.table.intern({
        ...{ name, group: "boat", subject: "", quantity: name.slice("boat/".length) },
        ...{ unit: "1", decimals: 0, words: null, span: null, derived: true },
      });
      this.#followed.push({ signal, hours });
      this.#ahead = NaN;
    }
  }

  /** Looks at the clock where it is another than before. */
  follow(now: Micros): void {
    if (this.#followed.length === 0) return;
    if (this.wallOf(now) - now !== this.#ahead) this.#look(now);
  }

  /** Such hours begin or end. */
  runTimer(): void {
    this.#look(this.nextDue);
  }

  #look(now: Micros): void {
    const wall = this.wallOf(now);
    this.#ahead = wall - now;
    const isKnown = wall >= EARLIEST;
    const minute = isKnown ? this.#minuteAt(wall) : NaN;
    for (const { signal, hours } of this.#followed) {
      this.#say(signal, isKnown ? Number(isWithin(hours, minute)) : NaN, now);
    }
    this.nextDue = isKnown ? now + this.#nextEdge(wall, minute) - wall : Infinity;
  }

  /** When the next hours begin or end; or a look in between, where the clocks are changed before. */
  #nextEdge(wall: Micros, minute: number): Micros {
    const edges = this.#followed.flatMap(({ hours: { from, to } }) => [from, to]);
    const minutes = Math.min(...edges.map((edge) => minutesUntil(edge, minute)));
    const edge = wall - wall % MINUTE + minutes * MINUTE;
    return edges.includes(this.#minuteAt(edge)) ? edge : wall - wall % HALF_HOUR + HALF_HOUR;
  }

  #minuteAt(wall: Micros): number {
    this.#format ??= new Intl.DateTimeFormat("en-GB", {
      timeZone: this.timeZone,
      hour: "2-digit",
      minute: "2-digit",
      hourCycle: "h23",
    });
    const [hours, minutes] = this.#format.format(wall / MILLISECOND).split(":").map(Number);
    return hours * 60 + minutes;
  }

  #say(signal: number, value: number, now: Micros): void {
    const { table } = this;
    const isKnown = !Number.isNaN(value);
    const quality = isKnown ? Quality.good : Quality.bad;
    const reason = isKnown ? Reason.none : Reason.notAvailable;
    if (Object.is(table.values[signal], value) && table.reasons[signal] === reason) return;
    table.set(signal, value, quality, reason, now);
  }
}
