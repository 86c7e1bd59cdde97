import {
  BROKER_LINK,
  BrokerLink,
  CLOCK,
  ClockState,
  DISK_FREE,
  STATE_FOLDER,
  StateFolder,
} from "../../boat/computer-state.ts";
import { type Clock, isCredible } from "../../ground/clock.ts";
import { type Micros, MINUTE } from "../../ground/time.ts";
import type { BrokerState } from "../../outputs/mqtt/broker-link.ts";
import type { Watch } from "../../watch.ts";
import type { Outlet } from "./gateway.ts";

const ASK_DISK_EVERY: Micros = MINUTE;

export interface OwnHealthParts {
  readonly watch: Pick<Watch, "noteComputer">;
  readonly clock: Clock;
  /** How much of the disk with the state folder is free, in %; undefined where nothing is kept. */
  readonly askDisk: (() => Promise<number>) | undefined;
  /** Whether what is to be kept could not be written last. */
  readonly isFailing: () => boolean;
  /** How things stand with a broker ashore or aboard; undefined where none is named. */
  readonly broker: () => BrokerState | undefined;
}

/**
 * What the gateway knows of itself, as signals that rules judge: whether its clock is set, whether
 * its broker is reached, how much of its disk is free and whether it can be written. The disk is asked
 * once a minute, and nothing waits for it. What is not there is no signal.
 */
export function ownHealth(parts: OwnHealthParts): Outlet {
  const { watch, clock, askDisk, broker } = parts;
  let diskDue = -Infinity;
  let isSet: boolean | undefined;
  let link: BrokerState["state"] | undefined;
  let wasFailing: boolean | undefined;
  const ask = async (disk: () => Promise<number>) => watch.noteComputer(DISK_FREE, await disk());
  return {
    turn(now) {
      // Before the first frame the watch has no time from which a delay could run.
      if (now === 0) return;
      const nowSet = isCredible(clock.wall());
      if (nowSet !== isSet) {
        isSet = nowSet;
        watch.noteComputer(CLOCK, nowSet ? ClockState.set : ClockState.unset);
      }
      const state = broker()?.state;
      // Each try is "connecting" for a moment: what was known stands.
      if (state !== link && (state === "away" || state === "connected")) {
        link = state;
        watch.noteComputer(BROKER_LINK, BrokerLink[state]);
      }
      if (askDisk === undefined) return;
      const isFailing = parts.isFailing();
      if (isFailing !== wasFailing) {
        wasFailing = isFailing;
        watch.noteComputer(STATE_FOLDER, isFailing ? StateFolder.failing : StateFolder.written);
      }
      if (clock.steady() < diskDue) return;
      diskDue = clock.steady() + ASK_DISK_EVERY;
      void ask(askDisk);
    },
    stop: () => Promise.resolve(),
  };
}
