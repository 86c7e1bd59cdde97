import type { Boat } from "../../boat/boat.ts";
import type { Clock } from "../../ground/clock.ts";
import { isoTime, type Micros, MINUTE } from "../../ground/time.ts";
import { messageKey } from "../../outputs/phones/delivery/message-key.ts";
import { answerWords, type HailAnswer } from "../../outputs/phones/hail.ts";
import type { Phones } from "../../outputs/phones/phones.ts";
import type { PhoneMessage } from "../../outputs/phones/way.ts";
import { boatWords } from "../../outputs/phones/words/boat-words.ts";
import { dailyLine, type DayFacts } from "../../outputs/phones/words/daily-line.ts";
import { asManyAsFit } from "../../outputs/phones/words/lock-screen.ts";
import type { Store } from "../../store/store.ts";
import type { Person } from "../settings/people-settings.ts";
import { Diary, type DiaryEntry } from "./diary.ts";

export interface PhoneDiaryParts {
  readonly phones: Phones;
  readonly people: readonly Person[];
  readonly boat: Boat;
  readonly store: Store;
  readonly clock: Clock;
  /** When every way is tested: a cron text; left out for never. */
  readonly hailAt: string | undefined;
  readonly hail: () => Promise<readonly HailAnswer[]>;
  /** How the last day was; left out where nobody knows, such as ashore. */
  readonly day: (() => Promise<DayFacts>) | undefined;
  readonly say: (sentence: string) => void;
}

/** A watch that has just begun has not heard everything, and would have little to tell. */
const SETTLED: Micros = 2 * MINUTE;

/** The daily lines and the weekly test of the ways. */
export async function openPhoneDiary(parts: PhoneDiaryParts): Promise<Diary> {
  const { people, boat, store, clock } = parts;
  const keep: Diary["keep"] = (documents) => {
    store.commit({ documents }).saved.catch(() => {}); // The store tells of its own trouble.
  };
  const entries = people.map((person) => dailyEntry(person, parts))
    .concat(hailEntry(parts, keep))
    .filter((entry) => entry !== undefined);
  return new Diary(entries, boat.timeZone, clock, await store.documents("fact"), keep);
}

function dailyEntry(
  { name, dailyLine: cron }: Person,
  parts: PhoneDiaryParts,
): DiaryEntry | undefined {
  const { phones, boat, clock, day, say } = parts;
  if (cron === undefined || day === undefined) return undefined;
  const begun = clock.steady();
  return {
    name: `daily-line ${name}`,
    cron,
    isReady: () => clock.steady() - begun >= SETTLED,
    act(missed, done) {
      day().then((facts) => {
        const { timeZone } = boat;
        const words = { boat: boatWords(boat.name), timeZone, now: clock.wall(), missed };
        phones.say(messageTo(name, "daily-line", dailyLine(facts, words), parts), [done]);
      }).catch((error: Error) => say(`${name}'s daily line could not be made: ${error.message}.`));
    },
  };
}

/** Where a way did not take the test, everybody hears of it by the ways that work. */
function hailEntry(parts: PhoneDiaryParts, keep: Diary["keep"]): DiaryEntry | undefined {
  const { hailAt, hail, people, phones, boat, say } = parts;
  if (hailAt === undefined) return undefined;
  return {
    name: "hail",
    cron: hailAt,
    act(_missed, done) {
      hail().then((answers) => {
        keep([done]);
        const wrong = answers.filter(({ outcome }) => outcome !== "accepted");
        if (wrong.length === 0) return;
        const clauses = wrong.map(answerWords);
        say(`The test of the ways to your phones: ${clauses.join("; ")}.`);
        const head = `${boatWords(boat.name)}: a way to your phones did not take the test, and ` +
          "would take no alarm.";
        const text = `${head} ${asManyAsFit(clauses, `${head} .`)}.`;
        for (const { name } of people) phones.say(messageTo(name, "hail", text, parts), []);
      }).catch((error: Error) => say(`The ways could not be tested: ${error.message}.`));
    },
  };
}

function messageTo(
  person: string,
  about: "hail" | "daily-line",
  text: string,
  { store, boat, clock }: PhoneDiaryParts,
): PhoneMessage {
  const time = clock.wall();
  return {
    key: messageKey(store.epoch, `${about} ${isoTime(time, 6)}`, person),
    person,
    boat: boatWords(boat.name),
    priority: about === "hail" ? "warning" : "caution",
    about,
    text,
    signal: "",
    answers: [],
    time,
  };
}
