import { type Clock, isCredible } from "../../ground/clock.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { Watch } from "../../watch.ts";

/**
 * The time aboard. A computer without a battery for its clock begins in 1970 and may never reach the
 * network; where its clock is not set, the time that the bus tells is taken once that is believed
 * (`src/boat/health/bus-clock.ts`). A clock that is set is never doubted. Steady time stays what it
 * is, and with it every timer.
 */
export class BoatClock implements Clock {
  /** How far the computer's clock was set, as the sources have said. */
  #steps: Micros = 0;
  /** What the bus adds to the stamps of its frames. */
  #byBus: Micros = 0;
  #told: { readonly wall: Micros; readonly at: Micros } | undefined;

  constructor(
    readonly computer: Clock,
    readonly watch: Pick<Watch, "timeline" | "health">,
    readonly say: (sentence: string) => void,
  ) {}

  steady(): Micros {
    return this.computer.steady();
  }

  wall(): Micros {
    const wall = this.computer.wall();
    if (isCredible(wall) || this.#told === undefined) return wall;
    return this.#told.wall + this.computer.steady() - this.#told.at;
  }

  /** The computer's clock was set: by so much in all since the sources were opened. */
  stepped(steps: Micros): void {
    this.#steps = steps;
    this.#shift();
  }

  /**
   * Once a turn: whether the bus tells the time, and how far that is from the stamps. Before the
   * first frame there is only the computer's own time.
   */
  follow(now: Micros): void {
    const { timeline, health } = this.watch;
    if (now === 0) {
      timeline.wallBefore = this.wall();
      return;
    }
    const stamp = timeline.wallOf(now) - this.#byBus;
    const slow = health.clock.offset(now, stamp) * SECOND;
    if (isCredible(stamp)) this.#take(0);
    else if (!Number.isNaN(slow)) this.#take(slow);
    if (Number.isNaN(slow)) return;
    if (this.#told === undefined && !isCredible(this.computer.wall())) {
      this.say("The computer's clock is not set; the time is taken from the bus.");
    }
    this.#told = { wall: stamp + slow, at: this.computer.steady() };
  }

  /** The bus is heard to a tenth of a second: less than a second is no other time. */
  #take(byBus: Micros): void {
    if (Math.abs(byBus - this.#byBus) < SECOND) return;
    this.#byBus = byBus;
    this.#shift();
  }

  #shift(): void {
    this.watch.timeline.wallShift = this.#steps + this.#byBus;
  }
}
