import { z } from "zod";
import { ANSWER_ACTIONS } from "../../../alarms/answer-token.ts";
import { PRIORITIES } from "../../../alarms/words.ts";
import type { Micros } from "../../../ground/time.ts";
import type { Document } from "../../../store/store.ts";
import type { PhoneMessage } from "../way.ts";

z.config({ jitless: true });

/** How one message to one person stands, for whoever wants to show it. */
export interface DeliveryStanding {
  readonly key: string;
  /** `Hazel Comfort` */
  readonly boat: string;
  readonly person: string;
  /** The way that is tried, or that has taken it; empty while none is. */
  readonly way: string;
  /** `failed`: for good. */
  readonly state: "queued" | "sent" | "accepted" | "failed";
  /** Tries so far, in all ways. */
  readonly tried: number;
  /** Why the last try did not succeed, as a clause; empty while all is well. */
  readonly why: string;
  readonly text: string;
  /** Wall time at which it was due, and of the last change. */
  readonly due: Micros;
  readonly changed: Micros;
}

/** A message and how it stands, as it is kept over a restart. */
export interface ToldRecord {
  readonly message: PhoneMessage;
  /** Which raisings it tells of. */
  readonly raisings: readonly string[];
  /** Begin with the second way. */
  readonly isAgain: boolean;
  readonly standing: DeliveryStanding;
}

const answer = z.object({
  action: z.enum(ANSWER_ACTIONS),
  words: z.string(),
  address: z.string(),
});

const message: z.ZodType<PhoneMessage> = z.object({
  key: z.string(),
  person: z.string(),
  boat: z.string(),
  priority: z.enum(PRIORITIES),
  about: z.enum(["raised", "returned", "hail", "daily-line"]),
  text: z.string(),
  signal: z.string(),
  answers: z.array(answer),
  time: z.number(),
});

const toldRecord: z.ZodType<ToldRecord> = z.object({
  message,
  raisings: z.array(z.string()),
  isAgain: z.boolean(),
  standing: z.object({
    key: z.string(),
    boat: z.string(),
    person: z.string(),
    way: z.string(),
    state: z.enum(["queued", "sent", "accepted", "failed"]),
    tried: z.int(),
    why: z.string(),
    text: z.string(),
    due: z.number(),
    changed: z.number(),
  }),
});

export function toldDocument(record: ToldRecord): Document {
  return { kind: "told", key: record.message.key, text: JSON.stringify(record) };
}

/** What was kept, the oldest first; what cannot be read is left out. */
export function readToldRecords(documents: ReadonlyMap<string, string>): ToldRecord[] {
  return [...documents.values()].map(parsed).filter((record) => record !== undefined)
    .toSorted((a, b) => a.standing.due - b.standing.due);
}

export function isSettled({ standing: { state } }: ToldRecord): boolean {
  return state === "accepted" || state === "failed";
}

function parsed(text: string): ToldRecord | undefined {
  try {
    return toldRecord.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}
