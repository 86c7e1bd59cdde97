import { z } from "zod";
import type { Answer } from "../../alarms/change.ts";
import type { BoatSaying } from "../../boat/boat-state.ts";
import { nearestName } from "../../ground/spelling.ts";
import { type Micros, MINUTE, parseIsoTime } from "../../ground/time.ts";
import { answerByToken, type ProveToken } from "./answer-by-token.ts";
import { identified, misread, type Timed, timed } from "./command-fields.ts";
import { hasRightHmac } from "./command-hmac.ts";
import { ANSWERS, readAnswer } from "./commands-to-alarms.ts";
import { readCondition } from "./condition-command.ts";
import { SeenIds } from "./seen-ids.ts";

/** A command as it came from the broker. */
export interface CommandMessage {
  /** The last part of its topic: `acknowledge`. */
  readonly name: string;
  readonly text: string;
  /** It lay on the broker before it was read: then nobody knows when it was meant. */
  readonly retained: boolean;
}

export type JudgedCommand =
  | { readonly kind: "answer"; readonly id: string; readonly answer: Answer }
  | ConditionCommand
  | ResendCommand
  | ReceivedCommand
  | { readonly kind: "refused"; readonly id: string | null; readonly refused: string };

/** Somebody says who is aboard, or whether she is winterised. */
export interface ConditionCommand {
  readonly kind: "condition";
  readonly id: string;
  readonly condition: BoatSaying;
  readonly who: string;
}

/** Somebody ashore misses what these numbers name, both ends included. */
export interface ResendCommand {
  readonly kind: "resend";
  readonly id: string;
  readonly of: "event" | "history";
  readonly from: number;
  readonly to: number;
}

/** Everything up to these numbers is safe ashore. */
export interface ReceivedCommand {
  readonly kind: "received";
  readonly id: string | null;
  readonly number: number;
  readonly history: number | null;
}

export interface CommandGateParts {
  readonly epoch: string;
  /** The topic of commands up to their name: `sternfast/hazel-comfort/command/`. */
  readonly topics: string;
  /** With a key, a command without the right `hmac` is refused. */
  readonly key?: string;
  /** Proves the token of a link; without it none is taken. */
  readonly proveToken?: ProveToken;
  readonly seen?: SeenIds;
}

const OLDEST: Micros = 10 * MINUTE;

const resending = timed.extend({
  epoch: z.string(),
  of: z.enum(["event", "history"]).default("event"),
  from: z.int().min(1),
  to: z.int().min(1),
});
const receipt = z.object({
  id: identified.shape.id.optional(),
  epoch: z.string(),
  number: z.int().min(0),
  history: z.int().min(0).optional(),
});
/** Flat: what lies in one another could lie so deep that no program can look at it. */
const fieldsOf = z.record(
  z.string(),
  z.union([z.string(), z.number(), z.boolean(), z.null()]),
);

const NAMES: readonly string[] = [...ANSWERS, "condition", "resend", "received"];

/**
 * Refuses every command that might not be meant for now: retained, repeated, old, of another epoch,
 * or not signed where a signature is wanted. Whether the occurrence is the present one is for the
 * alarms to say.
 */
export class CommandGate {
  readonly #seen: SeenIds;

  constructor(readonly parts: CommandGateParts) {
    this.#seen = parts.seen ?? new SeenIds();
  }

  /** @param wall null while the clock is not set; then only a matching epoch counts */
  judge({ name, text, retained }: CommandMessage, wall: Micros | null): JudgedCommand {
    const content = parsed(text);
    const id = identified.safeParse(content).data?.id ?? null;
    const problem = this.#problemOf(name, content, retained);
    if (problem !== undefined) return { kind: "refused", id, refused: problem };
    switch (name) {
      case "received":
        return this.#judgeReceipt(id, content);
      case "resend":
        return this.#judgeResend(id, content, wall);
      case "condition":
        return this.#judgeCondition(id, content, wall);
      default:
        return this.#judgeAnswer(name, id, content, wall);
    }
  }

  #problemOf(name: string, content: unknown, retained: boolean): string | undefined {
    if (retained) {
      return "A retained command is refused: it may be from any time. Send it not retained.";
    }
    if (!NAMES.includes(name)) return unknownName(name);
    const fields = fieldsOf.safeParse(content);
    if (!fields.success) return "The command is not a JSON object of texts and numbers.";
    const { key, topics } = this.parts;
    if (key !== undefined && !hasRightHmac(topics + name, fields.data, key)) {
      return "hmac" in fields.data
        ? "The command's HMAC is not right: it was changed, or made with another key."
        : "The command has no HMAC, and this boat wants one.";
    }
    return undefined;
  }

  #judgeAnswer(
    name: string,
    id: string | null,
    content: unknown,
    wall: Micros | null,
  ): JudgedCommand {
    const kind = ANSWERS.find((one) => one === name);
    if (kind === undefined) return refusal(id, unknownName(name));
    const read = answerByToken(kind, content, this.parts.proveToken) ??
      readAnswer(kind, content, wall);
    if ("problem" in read) return refusal(id, read.problem);
    return this.#inTime(id, content, wall, (timely) => ({
      kind: "answer",
      id: timely,
      answer: read.answer,
    }));
  }

  #judgeCondition(id: string | null, content: unknown, wall: Micros | null): JudgedCommand {
    const read = readCondition(content);
    if ("problem" in read) return refusal(id, read.problem);
    // It names no occurrence by which an old one could be told from a new one.
    if (wall === null) return refusal(id, "The boat's clock is not set; say it on her page.");
    return this.#inTime(id, content, wall, (timely) => ({
      kind: "condition",
      id: timely,
      ...read,
    }));
  }

  /** The command, where it is meant for now; its id is used up then. */
  #inTime(
    id: string | null,
    content: unknown,
    wall: Micros | null,
    made: (id: string) => JudgedCommand,
  ): JudgedCommand {
    const read = timed.safeParse(content);
    const problem = read.success ? this.#staleness(read.data, wall) : misread(read.error);
    return read.success && problem === undefined ? made(read.data.id) : refusal(id, problem);
  }

  #judgeResend(id: string | null, content: unknown, wall: Micros | null): JudgedCommand {
    const read = resending.safeParse(content);
    const problem = read.success ? this.#staleness(read.data, wall) : misread(read.error);
    if (!read.success || problem !== undefined) return refusal(id, problem);
    const { of, from, to } = read.data;
    if (from > to) return refusal(id, `Found from ${from} to ${to}, expected the lower one first.`);
    return { kind: "resend", id: read.data.id, of, from, to };
  }

  /** A receipt stays true for its epoch however old it is, and a repeated one changes nothing. */
  #judgeReceipt(id: string | null, content: unknown): JudgedCommand {
    const read = receipt.safeParse(content);
    if (!read.success) return refusal(id, misread(read.error));
    if (read.data.epoch !== this.parts.epoch) return refusal(id, OTHER_EPOCH);
    const { number, history = null } = read.data;
    return { kind: "received", id, number, history };
  }

  #staleness(
    { id, time, epoch }: Timed,
    wall: Micros | null,
  ): string | undefined {
    const age = ageProblem(time, wall);
    if (epoch !== undefined && epoch !== this.parts.epoch) return OTHER_EPOCH;
    if (wall === null && epoch === undefined) {
      return "The boat's clock is not set; a command needs the epoch until it is.";
    }
    if (age !== undefined) return age;
    if (!this.#seen.isRepeated(id)) return undefined;
    return `Command "${id}" was here before; it is answered once.`;
  }
}

const OTHER_EPOCH = "The command is for another epoch of this boat.";

function refusal(id: string | null, refused = ""): JudgedCommand {
  return { kind: "refused", id, refused };
}

function unknownName(name: string): string {
  const nearest = nearestName(name, NAMES);
  const meant = nearest === undefined ? "" : `; did you mean "${nearest}"?`;
  return `There is no command "${name}"${meant || "."}`;
}

function ageProblem(time: string, wall: Micros | null): string | undefined {
  const sent = parseIsoTime(time);
  if (sent === undefined) return `Found the time "${time}", expected 2026-06-14T10:12:03Z.`;
  if (wall === null) return undefined;
  if (wall - sent > OLDEST) return "The command is older than 10 minutes.";
  if (sent - wall > OLDEST) {
    return "The command's time is more than 10 minutes ahead of the boat's clock.";
  }
  return undefined;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
