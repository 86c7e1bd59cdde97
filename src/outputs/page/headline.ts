import type { AlarmStatus } from "../../alarms/change.ts";
import { PRIORITIES, type Priority } from "../../alarms/words.ts";
import { asksForAnswer, isPutAside } from "./alarm-words.ts";
import type { AlarmLine, Watch } from "./boat-view.ts";
import { capital } from "./names.ts";

/**
 * The one sentence above everything: what is raised, and how far that can be believed. It never
 * says that all is well while a rule cannot be judged.
 */
export function headline(alarms: readonly AlarmLine[], watch: Watch): string {
  return `${raisedSentence(alarms)} ${watchSentence(watch)}`;
}

function raisedSentence(alarms: readonly AlarmLine[]): string {
  const statuses = alarms.map((line) => line.status);
  const raised = statuses.filter((status) => status.state !== "normal" && !isPutAside(status));
  const counts = PRIORITIES
    .map((priority) => counted(raised.filter((status) => status.priority === priority), priority))
    .filter((text) => text !== "");
  const open = raised.filter(asksForAnswer).length;
  const noAlarms = raised.every((status) => status.priority === "caution");
  const list = capital([...(noAlarms ? ["no alarms"] : []), ...counts].join(", "));
  const aside = asideWords(statuses);
  if (noAlarms) return `${list}${aside}.`;
  if (raised.length === 1) {
    return `${list}, ${open === 1 ? "not yet answered" : "answered"}${aside}.`;
  }
  return `${list}; ${open === 0 ? "all answered" : `${open} not yet answered`}${aside}.`;
}

/** `; 1 shelved, 2 out of service`: nobody is told of these. */
function asideWords(statuses: readonly AlarmStatus[]): string {
  const counts = (["shelved", "out-of-service"] as const).flatMap((hold) => {
    const { length } = statuses.filter((status) => status.hold === hold);
    return length === 0 ? [] : [`${length} ${hold.replaceAll("-", " ")}`];
  });
  return counts.length === 0 ? "" : `; ${counts.join(", ")}`;
}

function counted(raised: readonly unknown[], priority: Priority): string {
  if (raised.length === 0) return "";
  return plural(raised.length, priority.replace("-", " "));
}

function watchSentence({ onWatch, unjudged }: Watch): string {
  if (unjudged === undefined) {
    if (onWatch === 0) return "Nothing is known of her rules.";
    return `${plural(onWatch, "rule")}; her own page says which cannot be judged.`;
  }
  if (onWatch + unjudged.length === 0) return "No rules are given, so nothing is judged.";
  const watching = `${plural(onWatch, "rule")} ${onWatch === 1 ? "is" : "are"} on watch`;
  if (unjudged.length === 0) return `${watching}.`;
  return `${watching}; ${unjudged.length} cannot be judged.`;
}

function plural(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? "" : "s"}`;
}
