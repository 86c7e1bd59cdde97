import { join } from "node:path";
import type { AlarmChange, AlarmStatus, Answer, AnswerOutcome } from "../../alarms/change.ts";
import { KnownQuantities } from "../../boat/known-quantities.ts";
import type { Clock } from "../../ground/clock.ts";
import { ALL_ROWS } from "../../nmea2000/rows/all.ts";
import type { Received } from "../../outputs/mqtt/broker-connection.ts";
import { BoatFollower } from "../../outputs/mqtt/shore/boat-follower.ts";
import { BoatHeard, NOT_HEARD, type NotHeardState } from "../../outputs/mqtt/shore/boat-heard.ts";
import type { Store } from "../../store/store.ts";
import type { UnitCode } from "../../units/codes.ts";
import { sayDuration } from "../../units/duration.ts";
import { AshoreTable } from "./ashore-table.ts";
import { openStateFolder } from "../watching/open-state-folder.ts";

export interface AshoreBoatParts {
  readonly name: string;
  readonly root: string;
  /** The folder of all boats; without one nothing is kept. */
  readonly state: string | undefined;
  readonly folder: string;
  /** Where *boat not heard* is kept: the shore's own events. */
  readonly shore: Store;
  readonly notHeard: NotHeardState;
  readonly clock: Clock;
  readonly key?: string;
  readonly send: (topic: string, payload: string) => boolean;
  /** A change of *boat not heard* was kept. */
  readonly onKept: () => void;
  readonly say: (sentence: string) => void;
}

const KNOWN = new KnownQuantities(ALL_ROWS);

/** Units in which history is kept where nothing else is known of the signal. */
const USUAL_UNITS: Readonly<Record<string, UnitCode>> = {
  ...{ "Pa": "Pa", "Cel": "Cel", "V": "V", "A": "A", "W": "W", "Hz": "Hz", "m": "m", "m/s": "m/s" },
  ...{ "1/s": "1/min", "m3/s": "L/h", "m3": "L", "s": "s", "/": "%", "rad": "deg", "C": "A.h" },
  ...{ "lat": "deg", "lon": "deg" },
};

/** One boat as the shore sees it: followed, watched over, and ready to be shown. */
export class AshoreBoat {
  readonly values = new AshoreTable();
  readonly heard: BoatHeard;
  /** Told whenever events of the boat were kept. */
  onEvents: () => void = () => {};

  private constructor(
    readonly parts: AshoreBoatParts,
    readonly store: Store,
    readonly follower: BoatFollower,
  ) {
    this.heard = new BoatHeard(parts.name, parts.clock, parts.notHeard);
  }

  /** @throws {CommandFailure} where the boat's folder cannot be used */
  static async open(parts: AshoreBoatParts): Promise<AshoreBoat> {
    const { name, root, state, folder, clock, key, send, say } = parts;
    const place = state === undefined ? undefined : join(state, name);
    const store = await openStateFolder(place, folder, say);
    let boat: AshoreBoat | undefined = undefined;
    const follower = await BoatFollower.open({
      base: `${root}${name}/`,
      store,
      clock,
      key,
      send,
      newId: () => crypto.randomUUID(),
      unitOf: (signal, senml) => unitOf(boat?.values, signal, senml),
      onLink: (link, retained) => boat?.heard.note(link, retained),
      onEvents: () => boat?.onEvents(),
      onTrouble: (sentence) => say(`${name}: ${sentence}`),
    });
    boat = new AshoreBoat(parts, store, follower);
    return boat;
  }

  take(message: Received): void {
    this.follower.take(message);
    this.values.take(message.topic, message.text);
  }

  tick(): void {
    this.follower.tick();
    const change = this.heard.judge();
    if (change === undefined) return;
    this.parts.say(`${this.parts.name}: ${change.why}`);
    // A disk that fails is told by the store; what was said is tried again there.
    this.#keep(change).catch(() => {});
  }

  /** Alarms of the boat, and the shore's own. */
  alarms(): AlarmStatus[] {
    return [this.notHeardStatus(), ...this.follower.alarms.values()];
  }

  async answer(answer: Answer): Promise<AnswerOutcome> {
    if (answer.tag !== NOT_HEARD) return await this.follower.answer(answer);
    if (answer.kind !== "acknowledge") {
      return { accepted: false, refused: "That a boat is not heard can only be answered." };
    }
    const change = this.heard.answer(answer.occurrence, answer.who);
    if (change === undefined) {
      return { accepted: false, refused: "It is answered already, or over." };
    }
    await this.#keep(change);
    return { accepted: true };
  }

  async close(): Promise<void> {
    await this.follower.idle();
    await this.store.close();
  }

  async #keep(change: AlarmChange): Promise<void> {
    const { shore, name, onKept } = this.parts;
    const text = JSON.stringify(this.heard.state);
    const documents = [{ kind: "alarm-memory", key: `${NOT_HEARD}/${name}`, text }] as const;
    await shore.commit({ changes: [change], documents }).saved;
    onKept();
  }

  /** *Boat not heard* as it stands. */
  notHeardStatus(): AlarmStatus {
    const { state, lastWord, interval } = this.heard;
    return {
      tag: NOT_HEARD,
      subject: this.parts.name,
      title: "Boat not heard",
      state: state.name,
      hold: "none",
      occurrence: state.occurrence,
      priority: "alarm",
      signal: "",
      value: null,
      unit: "",
      setpoint: null,
      raised: lastWord,
      changed: lastWord,
      message: `No word from the boat, which should speak every ${sayDuration(interval)}.`,
      consequence: "Nobody ashore would hear of an alarm.",
      response: {
        aboard: "Look at the computer, its supply and its way to the shore.",
        ashore: "Ask somebody near the boat to look at it.",
      },
    };
  }
}

function unitOf(values: AshoreTable | undefined, name: string, senml = ""): UnitCode {
  const said = values?.unitOf(name);
  if (said !== undefined) return said;
  const parts = name.split("/");
  const quantity = parts.slice(parts.length > 2 ? 2 : 1).join("/");
  return KNOWN.unitOf(parts[0], quantity) ?? USUAL_UNITS[senml] ?? "1";
}
