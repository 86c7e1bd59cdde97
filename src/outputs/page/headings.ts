import type { SignalFacts } from "../../boat/signal-table.ts";
import { capital, quantityWords, spaced, subjectWords } from "./names.ts";

/** What a signal stands under on the page. */
export interface Heading {
  /** Fit for an HTML id. */
  readonly id: string;
  readonly title: string;
  /** Place on the page. */
  readonly rank: number;
}

/** Groups whose subjects are large enough for a heading each, in the order of the page. */
const LARGE = ["engine", "gearbox", "battery", "charger", "inverter", "shore-power"];

/** Groups that share a heading, because each subject is only a line or two; they follow. */
const SHARED: Readonly<Record<string, string>> = {
  bilge: "Bilges",
  tank: "Tanks",
  detector: "Detectors",
  cabin: "Cabins",
  position: "Position and way",
  course: "Position and way",
  speed: "Position and way",
  heading: "Position and way",
  sounder: "Position and way",
  wind: "Wind and weather",
  sea: "Wind and weather",
  air: "Wind and weather",
  switch: "Switches",
};

const SHARED_TITLES = [...new Set(Object.values(SHARED))];

/** The heading of a signal; groups that nobody foresaw come last, one heading each. */
export function headingOf({ group, subject }: SignalFacts): Heading {
  const shared = SHARED[group];
  if (shared !== undefined) {
    return {
      id: shared.toLowerCase().replaceAll(" ", "-"),
      title: shared,
      rank: LARGE.length + SHARED_TITLES.indexOf(shared),
    };
  }
  const place = LARGE.indexOf(group);
  return {
    id: subject === "" ? group : `${group}.${subject}`,
    title: capital(subjectWords(group, subject)),
    rank: place < 0 ? LARGE.length + SHARED_TITLES.length : place,
  };
}

/** The signal's name beneath its heading: what a shared heading leaves out stays in the name. */
export function nameUnderHeading({ group, subject, quantity }: SignalFacts): string {
  const words = quantityWords(quantity);
  if (SHARED[group] === undefined || group === "position" || group === "sounder") {
    return capital(words);
  }
  if (group === "switch") return `${capital(subjectWords(group, subject))}, ${words}`;
  // "apparent-speed" is "apparent wind speed".
  if (group === "wind") return capital(words.replace(" ", " wind "));
  return capital(`${spaced(subject === "" ? group : subject)} ${words}`);
}
