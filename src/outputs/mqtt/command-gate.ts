import { z } from "zod";
import type { Acknowledge } from "../../alarms/change.ts";
import { nearestName } from "../../ground/spelling.ts";
import { type Micros, MINUTE, parseIsoTime } from "../../ground/time.ts";

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
  | { readonly kind: "refused"; readonly id: string | null; readonly refused: string };

/** Commands of the contract that a later version carries out. */
const LATER = [
  "shelve",
  "unshelve",
  "reset",
  "out-of-service",
  "return-to-service",
  "condition",
  "resend",
];
const OLDEST: Micros = 10 * MINUTE;
const REMEMBERED = 1_000;

/** The id becomes part of a topic, so it is letters, digits, dots, hyphens and underscores. */
const identified = z.object({ id: z.string().regex(/^[A-Za-z0-9._-]{1,64}$/) });
const acknowledgement = identified.extend({
  time: z.string(),
  epoch: z.string().optional(),
  tag: z.string().max(200),
  subject: z.string().max(200),
  occurrence: z.int().min(1),
  who: z.string().min(1).max(80),
});

/**
 * Refuses every command that might not be meant for now: retained, repeated, old, or of another
 * epoch. Whether the occurrence is the present one is for the alarms to say.
 */
export class CommandGate {
  /** Ids seen, oldest first. */
  readonly #seen = new Set<string>();

  constructor(readonly epoch: string) {}

  /** @param wall null while the clock is not set; then only a matching epoch counts */
  judge({ name, text, retained }: CommandMessage, wall: Micros | null): JudgedCommand {
    const content = parsed(text);
    const id = identified.safeParse(content).data?.id ?? null;
    const refuse = (refused: string): JudgedCommand => ({ kind: "refused", id, refused });

    if (retained) {
      return refuse(
        "A retained command is refused: it may be from any time. Send it not retained.",
      );
    }
    if (LATER.includes(name)) return refuse(`"${name}" is not in this version.`);
    if (name !== "acknowledge") return refuse(unknownName(name));
    const read = acknowledgement.safeParse(content);
    if (!read.success) return refuse(misread(read.error));

    const { time, epoch, tag, subject, occurrence, who } = read.data;
    const age = ageProblem(time, wall);
    if (epoch !== undefined && epoch !== this.epoch) {
      return refuse("The command is for another epoch of this boat.");
    }
    if (wall === null && epoch === undefined) {
      return refuse("The boat's clock is not set; a command needs the epoch until it is.");
    }
    if (age !== undefined) return refuse(age);
    if (this.#isRepeated(read.data.id)) {
      return refuse(`Command "${read.data.id}" was here before; it is answered once.`);
    }
    const answer: Acknowledge = { kind: "acknowledge", tag, subject, occurrence, who };
    return { kind: "acknowledge", id: read.data.id, answer };
  }

  #isRepeated(id: string): boolean {
    if (this.#seen.has(id)) return true;
    this.#seen.add(id);
    if (this.#seen.size > REMEMBERED) {
      for (const oldest of this.#seen) {
        this.#seen.delete(oldest);
        break;
      }
    }
    return false;
  }
}

function unknownName(name: string): string {
  const nearest = nearestName(name, ["acknowledge", ...LATER]);
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
  const where = issue.path.join(".");
  return where === ""
    ? "The command is not a JSON object."
    : `The command's "${where}" is not right: ${issue.message}.`;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
