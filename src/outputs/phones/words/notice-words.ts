import type { AlarmChange, AlarmStatus } from "../../../alarms/change.ts";
import { PRIORITIES } from "../../../alarms/words.ts";
import type { Micros } from "../../../ground/time.ts";
import type { NoticeItem } from "../telling/notice.ts";
import { factWords, PRIORITY_WORDS, sentences, titleWords } from "./alarm-words.ts";
import { clockWords } from "./clock-words.ts";
import { asManyAsFit, fitting } from "./lock-screen.ts";

export interface Wording {
  /** `Hazel Comfort` */
  readonly boat: string;
  /** IANA name of the owner's time zone. */
  readonly timeZone: string;
  /** Where people are, as far as anyone knows: the two are told to do different things. */
  readonly whereabouts: "aboard" | "ashore";
  /** Wall time; a change of another day is told with its date. */
  readonly now: Micros;
  readonly statusOf: (change: AlarmChange) => AlarmStatus | undefined;
}

/**
 * What one message says, the same in every way to a phone: which boat, what, the number against its
 * limit, since when, what to do. The gravest alarm first and whole; of others as much as a locked
 * phone shows.
 * @param items the gravest first, at least one
 */
export function noticeWords(items: readonly NoticeItem[], wording: Wording): string {
  const [first, ...others] = items;
  const { boat } = wording;
  const unsaved = items.some(({ isUnsaved }) => isUnsaved)
    ? "The boat's computer could not save this."
    : "";
  if (first.over !== undefined) {
    if (items.length === 1) return overWords(first, first.over, wording);
    const titles = items.map((item) => titleOf(item, wording));
    return `${boat}, over: ${asManyAsFit(titles, `${boat}, over: .`)}.`;
  }
  const count = items.length > 3 ? `, ${countWords(items)}. The gravest` : "";
  const head = `${boat}${count}, ${PRIORITY_WORDS[first.change.priority]}${noAnswer(first)}`;
  const fact = sentences(`${head}: ${factSince(first, wording)}`);
  const response = wording.statusOf(first.change)?.response[wording.whereabouts] ?? "";
  if (others.length === 0) {
    return sentences(fact, fitting(sentences(fact, unsaved), response), unsaved);
  }
  // What to do about the gravest goes before what else there is.
  const advice = fitting(sentences(fact, `Also ${others.length} more`, unsaved), response);
  const titles = others.map((item) =>
    item.over === undefined ? titleOf(item, wording) : `${titleOf(item, wording)} (over)`
  );
  const also = asManyAsFit(titles, sentences(fact, "Also ", advice, unsaved));
  return sentences(fact, `Also ${also}`, advice, unsaved);
}

/** `Hazel Comfort, WARNING over at 14:36: low house voltage. House voltage 12.8 V was back …` */
function overWords({ kind, change }: NoticeItem, over: AlarmChange, wording: Wording): string {
  const { boat, timeZone, now, statusOf } = wording;
  const head = `${boat}, ${PRIORITY_WORDS[change.priority]} over`;
  const title = titleWords(change, statusOf(change));
  const end = clockWords(over.time, now, timeZone);
  if (kind === "was") {
    const begin = clockWords(change.time, now, timeZone);
    const what = sentences(`${head}: ${title}, from ${begin} to ${end}`);
    return sentences(what, fitting(what, change.why));
  }
  const answered = over.to.endsWith("unacknowledged") ? "It is not answered yet." : "";
  const what = sentences(`${head} at ${end}: ${title}`);
  return sentences(what, fitting(`${what} ${answered}`, over.why), answered);
}

/** A boat that is not heard has not been since her last word, which was before her alarm. */
function factSince({ change }: NoticeItem, { timeZone, now, statusOf }: Wording): string {
  const status = statusOf(change);
  const raised = status?.occurrence === change.occurrence ? status.raised : null;
  const since = Math.min(change.time, raised ?? Infinity);
  return `${factWords(change, status)}, since ${clockWords(since, now, timeZone)}`;
}

function noAnswer({ kind, after }: NoticeItem): string {
  if (kind === "again") return ", not yet answered";
  return kind === "passed-on" ? `, ${after} has not answered` : "";
}

function titleOf({ change }: NoticeItem, { statusOf }: Wording): string {
  return titleWords(change, statusOf(change));
}

/** `4 alarms, 2 warnings` of those that are not over. */
function countWords(items: readonly NoticeItem[]): string {
  return PRIORITIES.map((priority) => {
    const count = items.filter(({ change, over }) =>
      over === undefined && change.priority === priority
    ).length;
    if (count === 0) return "";
    return `${count} ${priority.replace("-", " ")}${count === 1 ? "" : "s"}`;
  }).filter((part) => part !== "").join(", ");
}
