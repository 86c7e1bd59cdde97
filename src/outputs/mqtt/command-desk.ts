import type { Answer, AnswerOutcome } from "../../alarms/change.ts";
import type { Clock } from "../../ground/clock.ts";
import type { ProveToken } from "./answer-by-token.ts";
import type { Received } from "./broker-connection.ts";
import { commandAnswers, type CommandOutcome } from "./command-answer.ts";
import {
  CommandGate,
  type ConditionCommand,
  type JudgedCommand,
  type ReceivedCommand,
  type ResendCommand,
} from "./command-gate.ts";
import type { Outgoing } from "./outgoing.ts";
import { SeenIds } from "./seen-ids.ts";

/** Commands from the broker are heard on the topics that begin so. */
export const COMMAND_TOPICS = "command/";

export interface CommandDeskParts {
  readonly base: string;
  readonly epoch: string;
  /** With a key, a command without the right HMAC is refused. */
  readonly key?: string;
  /** Proves the token of a link; without it none is taken. */
  readonly proveToken?: ProveToken;
  /** Ids of commands that were carried out before a restart. */
  readonly seen: readonly string[];
  readonly onSeen: (ids: readonly string[]) => void;
  /** Hands an answer to the alarms, which accept or refuse it. */
  readonly onAnswer: (answer: Answer) => AnswerOutcome | Promise<AnswerOutcome>;
  /** Resolves when what somebody said of the boat's condition is saved. */
  readonly onCondition: (command: ConditionCommand) => void | Promise<void>;
  readonly onResend: (command: ResendCommand) => Promise<CommandOutcome>;
  readonly onReceipt: (command: ReceivedCommand) => Promise<CommandOutcome>;
  /** A sentence for the log, for every command that was refused. */
  readonly onRefused: (sentence: string) => void;
  readonly clock: Clock;
  /** False while nobody knows what time it is. */
  readonly clockIsSet: () => boolean;
}

/** Takes commands, has them judged and carried out, and writes the answers. */
export class CommandDesk {
  readonly #gate: CommandGate;
  readonly #seen: SeenIds;

  constructor(readonly parts: CommandDeskParts) {
    this.#seen = new SeenIds(parts.seen);
    const { epoch, key, proveToken } = parts;
    const topics = parts.base + COMMAND_TOPICS;
    this.#gate = new CommandGate({ epoch, key, proveToken, topics, seen: this.#seen });
  }

  async take(message: Received): Promise<Outgoing[]> {
    // Somebody has cleared a retained command: nothing is asked.
    if (message.text === "") return [];
    const { base, onRefused, onSeen, clock, clockIsSet } = this.parts;
    const now = clockIsSet() ? clock.wall() : null;
    const name = message.topic.slice(COMMAND_TOPICS.length);
    const judged = this.#gate.judge(
      { name, text: message.text, retained: message.retained },
      now,
    );
    if (judged.kind === "answer" || judged.kind === "condition") onSeen(this.#seen.kept);
    const outcome = await this.#carryOut(judged).catch(({ message }: Error) => ({
      accepted: false as const,
      refused: `The boat could not carry it out: ${message}.`,
    }));
    if (!outcome.accepted) onRefused(`Command "${name}" was refused: ${outcome.refused}`);
    const wish = message.responseTopic === undefined
      ? null
      : { topic: message.responseTopic, correlation: message.correlation };
    return commandAnswers(judged.id, outcome, wish, base, clock.wall());
  }

  async #carryOut(judged: JudgedCommand): Promise<CommandOutcome> {
    switch (judged.kind) {
      case "answer":
        return await this.parts.onAnswer(judged.answer);
      case "condition":
        await this.parts.onCondition(judged);
        return { accepted: true };
      case "resend":
        return await this.parts.onResend(judged);
      case "received":
        return await this.parts.onReceipt(judged);
      case "refused":
        return { accepted: false, refused: judged.refused };
    }
  }
}
