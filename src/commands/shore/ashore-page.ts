import type { Clock } from "../../ground/clock.ts";
import { buildView } from "../../outputs/page/build-view.ts";
import type { BoatView } from "../../outputs/page/boat-view.ts";
import { type ListeningAddress, PageStartError } from "../../outputs/page/listening-address.ts";
import { PageServer } from "../../outputs/page/page-server.ts";
import type { OwnersUnits } from "../../units/units.ts";
import type { AshoreBoat } from "./ashore-boat.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";

export interface AshorePageParts {
  readonly boat: AshoreBoat;
  readonly clock: Clock;
  readonly address: ListeningAddress;
  /** How the owner reads. */
  readonly owners: OwnersUnits;
  readonly timeZone: string;
  readonly say: (sentence: string) => void;
}

/** The page of one boat, made from what lies on the broker. `publish` shows what is new. */
export class AshorePage {
  #view: BoatView;
  readonly #server: PageServer;

  private constructor(readonly parts: AshorePageParts) {
    this.#view = viewOf(parts, undefined);
    this.#server = new PageServer({
      view: this.#view,
      acknowledge: (answer) => parts.boat.acknowledge(answer),
      trouble: (error) => parts.say(`The page had a fault: ${error.message}`),
    });
  }

  /** @throws {CommandFailure} where the address is not this computer's own, or not free */
  static async open(parts: AshorePageParts): Promise<AshorePage> {
    const page = new AshorePage(parts);
    const { url } = await page.#server.start(parts.address).catch((error) => {
      if (error instanceof PageStartError) throw new CommandFailure(error.message);
      throw error;
    });
    parts.say(`The page of ${parts.boat.parts.name} is at ${url}`);
    return page;
  }

  publish(): void {
    this.#view = viewOf(this.parts, this.#view);
    this.#server.publish(this.#view);
  }

  async stop(): Promise<void> {
    await this.#server.stop();
  }
}

function viewOf(
  { boat, clock, owners, timeZone }: AshorePageParts,
  previous: BoatView | undefined,
): BoatView {
  const alarms = boat.alarms();
  return buildView({
    boat: boat.parts.name,
    timeZone,
    demo: false,
    owners,
    table: boat.values.table,
    alarms,
    // Limits are judged aboard; the broker carries no distances.
    rooms: [],
    watch: { onWatch: alarms.length, unjudged: [] },
    now: clock.wall(),
    lastFrame: Math.max(boat.heard.lastWord ?? 0, boat.values.lastHeard),
    wallOf: (time) => time,
  }, previous);
}
