import { z } from "zod";
import type { Acknowledge } from "../../alarms/change.ts";
import { nearestName } from "../../ground/spelling.ts";
import { type Micros, MINUTE, parseIsoTime } from "../../ground/time.ts";
import { hasRightHmac } from "./command-hmac.ts";
import { SeenIds } from "./seen-ids.ts";

z.config({ jitless: true });

/** A command as it came from the broker. */
export interface CommandMessage {
  /** The last part of its topic: `acknowledge`. */
  readonly name: string;
  readonly text: string;
  /** It lay on the broker before it was read: then nobody knows when it was meant. */
  readonly retained: boolean;
}

export type JudgedCommand =
  | { readonly kind: "acknowledge"; readonly id: string; readonly answer: Acknowledge }
  | ResendCommand
  | ReceivedCommand
  | { readonly kind: "refused"; readonly id: string | null; readonly refused: string };

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
  readonly seen?: SeenIds;
}

/** Commands of the contract that a later version carries out. */
const LATER = ["shelve", "unshelve", "reset", "out-of-service", "return-to-service", "condition"];
const OLDEST: Micros = 10 * MINUTE;

/** The id becomes part of a topic, so it is letters, digits, dots, hyphens and underscores. */
const identified = z.object({ id: z.string().regex(/^[A-Za-z0-9._-]{1,64}$/) });
const timed = identified.extend({ time: z.string(), epoch: z.string().optional() });
const acknowledgement = timed.extend({
  tag: z.string().max(200),
  subject: z.string().max(200),
  occurrence: z.int().min(1),
  who: z.string().min(1).max(80),
});
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
const object = z.record(z.string(), z.unknown());

const NAMES = ["acknowledge", "resend", "received"];

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
      default:
        return this.#judgeAcknowledgement(id, content, wall);
    }
  }

  #problemOf(name: string, content: unknown, retained: boolean): string | undefined {
    if (retained) {
      return "A retained command is refused: it may be from any time. Send it not retained.";
    }
    if (LATER.includes(name)) return `"${name}" is not in this version.`;
    if (!NAMES.includes(name)) return unknownName(name);
    const fields = object.safeParse(content);
    if (!fields.success) return "The command is not a JSON object.";
    const { key, topics } = this.parts;
    if (key !== undefined && !hasRightHmac(topics + name, fields.data, key)) {
      return "hmac" in fields.data
        ? "The command's HMAC is not right: it was changed, or made with another key."
        : "The command has no HMAC, and this boat wants one.";
    }
    return undefined;
  }

  #judgeAcknowledgement(
    id: string | null,
    content: unknown,
    wall: Micros | null,
  ): JudgedCommand {
    const read = acknowledgement.safeParse(content);
    const problem = read.success ? this.#staleness(read.data, wall) : misread(read.error);
    if (!read.success || problem !== undefined) return refusal(id, problem);
    const { tag, subject, occurrence, who } = read.data;
    const answer: Acknowledge = { kind: "acknowledge", tag, subject, occurrence, who };
    return { kind: "acknowledge", id: read.data.id, answer };
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
    { id, time, epoch }: z.output<typeof timed>,
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
  const nearest = nearestName(name, [...NAMES, ...LATER]);
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

function misread(error: z.ZodError): string {
  const [issue] = error.issues;
  return `The command's "${issue.path.join(".")}" is not right: ${issue.message}.`;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
