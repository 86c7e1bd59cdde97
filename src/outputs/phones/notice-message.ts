import { ANSWERED_ON_PAGE } from "../../alarms/answer-words.ts";
import type { AlarmChange } from "../../alarms/change.ts";
import type { Micros } from "../../ground/time.ts";
import { type AnswerAddress, type AnswerLink, answerLinks, haveItLink } from "./answer-link.ts";
import { messageKey } from "./delivery/message-key.ts";
import type { Notice, NoticeItem } from "./telling/notice.ts";
import type { Meanwhile } from "./telling/telling.ts";
import type { PhoneMessage } from "./way.ts";
import { titleWords } from "./words/alarm-words.ts";
import { lateWords, NEW_FOR } from "./words/late-words.ts";
import { fitting } from "./words/lock-screen.ts";
import { noticeWords, type Wording } from "./words/notice-words.ts";

/** What messages are made of beside the notices themselves. */
export interface MessageParts {
  /** Of the store that numbers the events. */
  readonly epoch: string;
  /** IANA name of the boat's time zone. */
  readonly timeZone: string;
  /** Whose alarm a change is: `Hazel Comfort`. */
  readonly boatOf: (change: AlarmChange) => string;
  readonly statusOf: Wording["statusOf"];
  readonly whereabouts: () => Wording["whereabouts"];
  /** Where a phone can answer; left out where no phone can. */
  readonly answerAddress?: AnswerAddress;
  /** No alarm here can be shelved, such as *boat not heard*. */
  readonly isNeverShelved?: boolean;
}

/** Of several alarms so many can be answered from one message. */
const MOST_ANSWERS = 3;

/** @param now wall time */
export function messageOf(
  { person, items }: Notice,
  parts: MessageParts,
  now: Micros,
): PhoneMessage {
  const [{ change, over, isUnsaved }] = items;
  const what = items.map(({ number, kind }) => `${number} ${kind}`).join(", ");
  // The number of what is not saved may yet go to another.
  const epoch = isUnsaved ? `${parts.epoch} unsaved ${change.time}` : parts.epoch;
  return {
    key: messageKey(epoch, what, person),
    person,
    boat: parts.boatOf(change),
    priority: change.priority,
    about: over === undefined ? "raised" : "returned",
    text: wordsOf(items, parts, now),
    signal: items.length === 1 ? change.signal : "",
    answers: answersTo(items, person, parts),
    time: over?.time ?? change.time,
  };
}

/**
 * What a message says when it is tried, which may be long after it was due.
 * @param age since it was due
 * @returns `isOver`: it says only what was
 */
export function textNow(
  { text, priority }: PhoneMessage,
  { was, answeredBy }: Meanwhile,
  age: Micros,
  parts: MessageParts,
  now: Micros,
): { readonly text: string; readonly isOver: boolean } {
  if (was.length > 0) return { text: wordsOf(was, parts, now), isOver: true };
  const late = age <= NEW_FOR[priority] ? "" : lateWords(now - age, now, parts.timeZone);
  const answered = answeredWords(answeredBy);
  if (late === "" && answered === "") return { text, isOver: false };
  const fits = fitting(`${late} ${answered}`, text);
  return { text: [late, fits, answered].filter((part) => part !== "").join(" "), isOver: false };
}

/** Nobody is named who answered on a page where nobody says who they are. */
function answeredWords(by: string): string {
  if (by === "") return "";
  return by === ANSWERED_ON_PAGE ? "It was answered on the page." : `${by} has answered.`;
}

function wordsOf(items: readonly NoticeItem[], parts: MessageParts, now: Micros): string {
  const { timeZone, boatOf, statusOf, whereabouts } = parts;
  const boat = boatOf(items[0].change);
  return noticeWords(items, { boat, timeZone, whereabouts: whereabouts(), now, statusOf });
}

/** A caution, and what is over, asks for no answer. */
function answersTo(
  items: readonly NoticeItem[],
  person: string,
  { answerAddress, statusOf, isNeverShelved }: MessageParts,
): readonly AnswerLink[] {
  if (answerAddress === undefined) return [];
  const asking = items.filter(({ over, change }) =>
    over === undefined && change.priority !== "caution"
  );
  if (items.length === 1) {
    return asking.flatMap(({ change }) =>
      answerLinks(change, change.priority, person, answerAddress).filter(({ action }) =>
        action !== "shelve" || isNeverShelved !== true
      )
    );
  }
  return asking.slice(0, MOST_ANSWERS).map(({ change }) =>
    haveItLink(change, titleWords(change, statusOf(change)), person, answerAddress)
  );
}
