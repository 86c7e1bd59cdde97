import type { Boat } from "../../boat/boat.ts";
import type { Clock } from "../../ground/clock.ts";
import type { AnswerLinks } from "../../outputs/page/answering/answer-links.ts";
import { NOT_HEARD } from "../../outputs/mqtt/shore/boat-heard.ts";
import { buildView } from "../../outputs/page/build-view.ts";
import type { BoatView } from "../../outputs/page/boat-view.ts";
import { type ListeningAddress, PageStartError } from "../../outputs/page/listening-address.ts";
import { PageServer } from "../../outputs/page/page-server.ts";
import type { PushDesk } from "../../outputs/page/phones/push-desk.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import type { PageAccess } from "../settings/page-access.ts";
import type { AshoreBoat } from "./ashore-boat.ts";
import type { ShorePhones } from "./shore-phones.ts";

export interface AshorePagesParts extends PageAccess {
  readonly clock: Clock;
  readonly address: ListeningAddress;
  /** How the owner reads. */
  readonly owner: Boat;
  readonly links: AnswerLinks;
  /** The shore's own people; left out where there are none. */
  readonly phones?: ShorePhones;
  /** Where a device asks to be told; left out where nobody is told by push messages. */
  readonly push?: PushDesk;
  readonly say: (sentence: string) => void;
}

/**
 * The pages of all boats, made from what lies on the broker: one address, a list of boats, and each
 * boat at /boat/NAME/. `publish` shows what is new.
 */
export class AshorePages {
  readonly #views = new Map<AshoreBoat, BoatView>();

  private constructor(
    readonly parts: AshorePagesParts,
    readonly server: PageServer,
    readonly url: string,
  ) {}

  /** @throws {CommandFailure} where the address is not free, or the page would be open to others */
  static async open(parts: AshorePagesParts): Promise<AshorePages> {
    const server = new PageServer({
      ...parts,
      aboard: false,
      timeZone: parts.owner.timeZone,
      trouble: (error) => parts.say(`The page had a fault: ${error.message}`),
    });
    const { url } = await server.start(parts.address).catch((error) => {
      if (error instanceof PageStartError) throw new CommandFailure(error.message);
      throw error;
    });
    return new AshorePages(parts, server, url);
  }

  show(boat: AshoreBoat): void {
    const { name } = boat.parts;
    const { phones } = this.parts;
    const view = this.#viewOf(boat);
    this.#views.set(boat, view);
    this.server.show(name, view, {
      answer: (answer) => boat.answer(answer),
      setCondition: (condition, who) => boat.follower.setCondition(condition, who),
      hail: phones && (() => phones.hail()),
    });
    this.parts.say(`The page of ${name} is at ${this.url}boat/${name}/`);
  }

  publish(): void {
    for (const boat of this.#views.keys()) {
      const view = this.#viewOf(boat);
      this.#views.set(boat, view);
      this.server.publish(boat.parts.name, view);
    }
  }

  async stop(): Promise<void> {
    await this.server.stop();
  }

  #viewOf(boat: AshoreBoat): BoatView {
    const { clock, owner, phones } = this.parts;
    const { name } = boat.parts;
    const alarms = boat.alarms();
    return buildView({
      boat: name,
      timeZone: owner.timeZone,
      demo: false,
      owners: owner.units,
      table: boat.values.table,
      alarms,
      // The shore is afar from every boat, and a boat that is not heard is nothing to put aside.
      canBeHeld: ({ tag, priority }) => tag !== NOT_HEARD && priority !== "emergency-alarm",
      // No rooms: limits are judged aboard, and the broker carries no distances.
      condition: boat.values.condition,
      winterised: boat.values.isWinterised,
      told: phones?.told(name),
      watch: { onWatch: alarms.length },
      now: clock.wall(),
      lastFrame: Math.max(boat.heard.lastWord ?? 0, boat.values.lastHeard),
      wallOf: (time) => time,
    }, this.#views.get(boat));
  }
}
