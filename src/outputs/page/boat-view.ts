import type { AlarmStatus, RoomLeft } from "../../alarms/change.ts";
import type { BoatCondition } from "../../boat/boat-state.ts";
import type { Priority } from "../../alarms/words.ts";
import type { RoomLeftPicture } from "../../drawing/room-left.ts";
import type { Reading } from "../../units/say.ts";
import type { Micros } from "../../ground/time.ts";
import type { WhoWasTold } from "./phones/who-was-told.ts";

/**
 * Everything that the page shows at one instant, as plain data in the owner's words and units.
 * All times are wall times. `build-view.ts` makes it, `page-parts.ts` draws it.
 */
export interface BoatView {
  /** As a person writes it: "Hazel Comfort". */
  readonly boat: string;
  /** True for the made-up boat. */
  readonly demo: boolean;
  /** IANA name. */
  readonly timeZone: string;
  readonly now: Micros;
  /** When the bus last said anything; null where it never did. */
  readonly lastHeard: Micros | null;
  /** Who is aboard; null where nobody has said, undefined where the page cannot know. */
  readonly condition?: BoatCondition | null;
  /** She was made ready for frost. */
  readonly winterised?: boolean;
  /** When each alarm really sounded, those that want to be tried first; undefined where not kept. */
  readonly proofs?: readonly ProofLine[];
  /** Who is told and how that went; undefined where the page cannot know. */
  readonly told?: WhoWasTold;
  readonly watch: Watch;
  /** Alarms that are not normal, or held; those that ask for an answer first. */
  readonly alarms: readonly AlarmLine[];
  /** Watched signals, least room first. */
  readonly rooms: readonly RoomLine[];
  /** What `rooms` is made of, for programs; undefined where the page cannot know. */
  readonly roomLeft?: readonly RoomLeft[];
  readonly subjects: readonly SubjectLines[];
}

/** One alarm and when it last really sounded. */
export interface ProofLine {
  readonly title: string;
  /** What it is about, in words; may be empty. */
  readonly about: string;
  /** Wall time; null for never. */
  readonly sounded: Micros | null;
  /** Wall time by which it wants to be tried. */
  readonly due: Micros;
}

export interface Watch {
  /** Rules that can be judged; all of them where the page cannot know. */
  readonly onWatch: number;
  /** Rules that cannot, those aside that are about nothing aboard; undefined where it cannot know. */
  readonly unjudged?: readonly UnjudgedRule[];
}

export interface UnjudgedRule {
  /** "Low oil pressure under load" */
  readonly title: string;
  /** "port engine"; empty where the rule is about the whole boat. */
  readonly about: string;
  /** "not heard", "sent as not available", …; empty where nothing more is known. */
  readonly reason: string;
}

export interface AlarmLine {
  readonly status: AlarmStatus;
  /** "port engine"; empty where the alarm is about the whole boat. */
  readonly about: string;
  /** False where it can be answered from this page, but never shelved or taken out of service. */
  readonly canBeHeld: boolean;
}

export interface RoomLine {
  /** Fit for an HTML id, unique among the rows: "engine.port.oil-pressure". */
  readonly id: string;
  /** "Port engine oil pressure" */
  readonly name: string;
  readonly value: Reading;
  /** "14 psi above its limit 18 psi", or why there is no distance. */
  readonly distance: string;
  /** The least of the last hour and day, where it was less than now: "least in the last day 4 psi". */
  readonly least: string;
  /** Share of the usual range to the nearest limit, negative beyond it; null when not known. */
  readonly room: number | null;
  /** Priority of the highest rule whose limit is passed; null when there is room. */
  readonly passed: Priority | null;
  /** Null where there is nothing to draw. */
  readonly picture: RoomLeftPicture | null;
}

export interface SubjectLines {
  /** Fit for an HTML id: "subject-engine.port". */
  readonly id: string;
  /** "Port engine" */
  readonly title: string;
  readonly signals: readonly SignalLine[];
}

export interface SignalLine {
  /** Fit for an HTML id, short, unique on the page. */
  readonly id: string;
  /** "Oil pressure" */
  readonly name: string;
  readonly value: Reading;
  /** When its device last sent it; null where it never did. */
  readonly heard: Micros | null;
  /** Why the value is missing or doubtful, in words; empty when it is good. */
  readonly remark: string;
  /** True where the remark is "not heard", and how long that has been is to be said. */
  readonly lost: boolean;
}
