import type { Acknowledge, AnswerOutcome } from "../../alarms/change.ts";
import type { Clock } from "../../ground/clock.ts";
import type { Received } from "./broker-connection.ts";
import { commandAnswers } from "./command-answer.ts";
import { CommandGate } from "./command-gate.ts";
import type { Outgoing } from "./outgoing.ts";

/** Commands from the broker are heard on the topics that begin so. */
export const COMMAND_TOPICS = "command/";

export interface CommandDeskParts {
  readonly base: string;
  readonly epoch: string;
  /** Hands an answer to the alarms, which accept or refuse it. */
  readonly onAnswer: (answer: Acknowledge) => AnswerOutcome | Promise<AnswerOutcome>;
  /** A sentence for the log, for every command that was refused. */
  readonly onRefused: (sentence: string) => void;
  readonly clock: Clock;
  /** False while nobody knows what time it is. */
  readonly clockIsSet: () => boolean;
}

/** Takes commands, has them judged and carried out, and writes the answers. */
export class CommandDesk {
  readonly #gate: CommandGate;

  constructor(readonly parts: CommandDeskParts) {
    this.#gate = new CommandGate(parts.epoch);
  }

  async take(message: Received): Promise<Outgoing[]> {
    const { base, onAnswer, onRefused, clock, clockIsSet } = this.parts;
    const now = clockIsSet() ? clock.wall() : null;
    const name = message.topic.slice(COMMAND_TOPICS.length);
    const command = { name, text: message.text, retained: message.retained };
    const judged = this.#gate.judge(command, now);
    const outcome: AnswerOutcome = judged.kind === "refused"
      ? { accepted: false, refused: judged.refused }
      : await onAnswer(judged.answer);
    if (!outcome.accepted) onRefused(`Command "${name}" was refused: ${outcome.refused}`);
    const wish = message.responseTopic === undefined
      ? null
      : { topic: message.responseTopic, correlation: message.correlation };
    return commandAnswers(judged.id, outcome, wish, base, clock.wall());
  }
}
