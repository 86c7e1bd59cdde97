import { z } from "zod";
import { ERROR_KINDS } from "../bus/error-kinds.ts";
import { UNIT_CODES } from "../units/codes.ts";
import { VERDICTS } from "./verdict.ts";

z.config({ jitless: true });

const text = z.string().nullable();
const number = z.number().nullable();
const count = z.int().min(0);
const time = z.string();

/** Who sends: a device where its address claim was heard, else an address. */
const senderSchema = z.strictObject({
  bus: z.string(),
  address: z.int(),
  /** 16 hexadecimal digits. */
  name: text,
  model: text,
  serial: text,
});
export type SurveySender = z.infer<typeof senderSchema>;

const messageSchema = z.strictObject({ pgn: count, title: z.string(), count, rate: number });

const deviceSchema = z.strictObject({
  bus: z.string(),
  /** null: it never claimed an address while we listened. */
  name: text,
  address: z.int().nullable(),
  manufacturerCode: number,
  model: text,
  softwareVersion: text,
  serial: text,
  /** In units of 50 mA. */
  loadEquivalency: number,
  /** null: claimed an address, and was not heard since. */
  lastHeard: time.nullable(),
  messages: z.array(messageSchema),
});
export type SurveyDevice = z.infer<typeof deviceSchema>;

const signalSchema = z.strictObject({
  name: z.string(),
  unit: z.enum(UNIT_CODES),
  decimals: count,
  /** In `unit`; null: none was ever sent, or it is a word. */
  value: number,
  word: text,
  lowest: number,
  highest: number,
  changes: count,
  messages: count,
  notAvailable: count,
  /** In hertz; null for fewer than two messages. */
  rate: number,
  lastHeard: time.nullable(),
  senders: z.array(senderSchema),
  verdict: z.enum(VERDICTS),
  cause: z.string(),
});
export type SurveySignal = z.infer<typeof signalSchema>;

const faultySchema = z.strictObject({
  sender: senderSchema,
  lost: count,
  malformed: count,
  /** Frames that came twice: a gateway repeats them. */
  repeated: count.default(0),
});

const busSchema = z.strictObject({
  bus: z.string(),
  /** Percent: mean and highest of whole seconds. */
  load: number,
  highestLoad: number,
  /** Those that our adapter reported. */
  errorFrames: count,
  /** Of these, the ones within 30 s after power-up, by which nothing is judged. */
  errorFramesAtPowerUp: count.default(0),
  /** How often each kind was told; one frame may tell of several. */
  errorKinds: z.partialRecord(z.enum(ERROR_KINDS), count).default({}),
  lostMessages: count,
  gaps: count,
  /** Seconds; 0 without a gap. */
  longestGap: z.number().min(0).default(0),
  addressConflicts: z.array(z.strictObject({ address: z.int(), names: z.array(z.string()) })),
  /** Volts, the lowest that a device tells. */
  supply: number,
  faulty: z.array(faultySchema),
  /** What to measure; empty where there is nothing to do. */
  advice: z.string(),
});
export type SurveyBus = z.infer<typeof busSchema>;

const unknownSchema = z.strictObject({
  manufacturerCode: number,
  pgn: count,
  proprietary: z.boolean(),
  sender: senderSchema,
  count,
  rate: number,
  /** Hexadecimal bytes. */
  sample: z.string(),
});
export type SurveyUnknown = z.infer<typeof unknownSchema>;

const unplacedSchema = z.strictObject({
  sender: senderSchema,
  pgn: count,
  title: z.string(),
  why: z.enum(["no-instance", "undecided", "ambiguous", "too-many"]),
});
export type SurveyUnplaced = z.infer<typeof unplacedSchema>;

const troubleCodeSchema = z.strictObject({
  sender: senderSchema,
  /** Suspect parameter number, and what it is about; null: no usual one. */
  spn: count,
  about: text,
  /** Failure mode identifier, in a word too. */
  fmi: count,
  failure: text,
  /** null: not counted. */
  occurrences: z.int().min(0).nullable(),
  /** It stood in the last list of active codes. */
  active: z.boolean(),
  /** The number is laid out in an old way and may be another's. */
  oldLayout: z.boolean(),
});
export type SurveyTroubleCode = z.infer<typeof troubleCodeSchema>;

/** What a survey found, for programs; `survey --json` prints it and `--against` reads it. */
export const surveyReportSchema = z.strictObject({
  survey: z.literal(1),
  input: z.string(),
  boat: z.string(),
  begins: time.nullable(),
  ends: time.nullable(),
  seconds: z.number(),
  frames: count,
  devices: z.array(deviceSchema),
  signals: z.array(signalSchema),
  /** Named by the boat file, and nothing of it was heard: "battery/house". */
  missing: z.array(z.string()),
  /** Messages that are known here, and of which nobody can say what they are about. */
  unplaced: z.array(unplacedSchema).default([]),
  troubleCodes: z.array(troubleCodeSchema).default([]),
  engines: z.array(z.strictObject({ engine: z.string(), hours: number })),
  buses: z.array(busSchema),
  unknown: z.array(unknownSchema),
  draft: z.string(),
});
export type SurveyReport = z.infer<typeof surveyReportSchema>;
