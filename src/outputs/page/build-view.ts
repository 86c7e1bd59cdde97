import type { AlarmStatus, RoomLeft } from "../../alarms/change.ts";
import type { Proof } from "../../alarms/proof.ts";
import type { BoatCondition } from "../../boat/boat-state.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import type { OwnersUnits } from "../../units/units.ts";
import { aboutWords, inOrderOfNeed, isPutAside } from "./alarm-words.ts";
import type { BoatView, Watch } from "./boat-view.ts";
import { boatTitle } from "./names.ts";
import type { WhoWasTold } from "./phones/who-was-told.ts";
import { roomLines } from "./room-lines.ts";
import { subjectLines } from "./signal-lines.ts";

/** What the page is made from. */
export interface ViewSources {
  /** As in the boat file: "hazel-comfort". */
  readonly boat: string;
  readonly timeZone: string;
  readonly demo: boolean;
  readonly owners: OwnersUnits;
  readonly table: SignalTable;
  readonly alarms: readonly AlarmStatus[];
  /** Left out where the page cannot know. */
  readonly rooms?: readonly RoomLeft[];
  /** Which alarms this page can shelve or take out of service; left out for all. */
  readonly canBeHeld?: (status: AlarmStatus) => boolean;
  /** Null where nobody has said; left out where the page cannot know. */
  readonly condition?: BoatCondition | null;
  readonly winterised?: boolean;
  /** Left out where it is not kept. */
  readonly proofs?: readonly Proof[];
  /** Left out where the page cannot know. */
  readonly told?: WhoWasTold;
  readonly watch: Watch;
  /** Wall time. */
  readonly now: Micros;
  /** Steady time of the last frame of any bus; 0 before the first. */
  readonly lastFrame: Micros;
  /** Wall time of a steady time. */
  readonly wallOf: (steady: Micros) => Micros;
}

/** The page's data at one instant. `previous` keeps rows of nearly equal room in their places. */
export function buildView(sources: ViewSources, previous?: BoatView): BoatView {
  const { table, owners, wallOf } = sources;
  return {
    boat: boatTitle(sources.boat),
    demo: sources.demo,
    timeZone: sources.timeZone,
    now: sources.now,
    lastHeard: sources.lastFrame > 0 ? wallOf(sources.lastFrame) : null,
    condition: sources.condition,
    winterised: sources.winterised,
    proofs: sources.proofs?.map(({ title, subject, signal, sounded, due }) => ({
      ...{ title, about: aboutWords(signal, subject), sounded, due },
    })),
    told: sources.told,
    watch: sources.watch,
    alarms: sources.alarms
      .filter((status) => status.state !== "normal" || isPutAside(status))
      .toSorted(inOrderOfNeed)
      .map((status) => ({
        status,
        about: aboutWords(status.signal, status.subject),
        canBeHeld: sources.canBeHeld?.(status) ?? true,
      })),
    roomLeft: sources.rooms,
    rooms: roomLines(sources.rooms ?? [], table, owners, previous?.rooms),
    subjects: subjectLines(table, owners, wallOf),
  };
}
