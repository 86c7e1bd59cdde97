import type { Rule } from "../../alarms/rules/rule.ts";
import type { Clock } from "../../ground/clock.ts";
import { isFault, sayProblems } from "../../ground/problem-words.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { Store } from "../../store/store.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import type { TextFile } from "../command-line/text-file.ts";
import { rulesOf } from "../settings/read-boat.ts";
import { EARLIER_STAY, keepAccepted } from "../settings/rules-in-force.ts";
import type { Outlet } from "./gateway.ts";

export interface RuleReloadParts {
  /** The files as they were read at the start. */
  readonly files: readonly TextFile[];
  /** Reads them as they lie there now. */
  readonly read: () => Promise<readonly TextFile[]>;
  readonly store: Store;
  readonly clock: Clock;
  /** Puts rules in force; resolves when what follows from it is saved. */
  readonly setRules: (rules: readonly Rule[]) => Promise<void>;
  /** Files that cannot be used lie there, or no longer do. */
  readonly noteRefused: (isRefused: boolean) => void;
  readonly say: (sentence: string) => void;
}

const LOOK_EVERY: Micros = SECOND;

/**
 * Looks at the rule files while the boat is watched, and puts what changed in force. Texts are used
 * once two looks have found them alike: an editor may be in the middle of writing. Files with a
 * mistake are refused as a whole, once, and the rules of before stay in force.
 */
export class RuleReload implements Outlet {
  #due: Micros;
  /** What was found at the last look, and what was last used or refused. */
  #found: string;
  #dealtWith: string;
  #looking: Promise<void> = Promise.resolve();

  constructor(readonly parts: RuleReloadParts) {
    this.#found = this.#dealtWith = JSON.stringify(parts.files);
    this.#due = parts.clock.steady() + LOOK_EVERY;
  }

  turn(): void {
    const steady = this.parts.clock.steady();
    if (steady < this.#due) return;
    // Not again before this look is over.
    this.#due = Infinity;
    this.#looking = this.#look()
      .catch((error) => this.parts.say(`The rule files could not be looked at: ${error}`))
      .finally(() => this.#due = this.parts.clock.steady() + LOOK_EVERY);
  }

  async stop(): Promise<void> {
    this.#due = Infinity;
    await this.#looking;
  }

  async #look(): Promise<void> {
    const read = await this.#read();
    const found = JSON.stringify(read);
    const hasSettled = found === this.#found;
    this.#found = found;
    if (!hasSettled || found === this.#dealtWith) return;
    this.#dealtWith = found;
    if (typeof read === "string") this.#refuse(`${read} ${sentence(EARLIER_STAY)}`);
    else await this.#use(read);
  }

  /** The files, or why they cannot be read. */
  async #read(): Promise<readonly TextFile[] | string> {
    try {
      return await this.parts.read();
    } catch (error) {
      if (error instanceof CommandFailure) return error.message;
      throw error;
    }
  }

  async #use(files: readonly TextFile[]): Promise<void> {
    const { store, setRules, noteRefused, say } = this.parts;
    const { rules, problems } = rulesOf(files);
    if (rules === undefined || problems.some(isFault)) {
      return this.#refuse(sayProblems(problems, EARLIER_STAY));
    }
    if (problems.length > 0) say(sayProblems(problems, ""));
    await keepAccepted(files, store);
    await setRules(rules);
    noteRefused(false);
    say(`The rule files have changed; ${rulesInWords(rules.length)} in force now.`);
  }

  #refuse(words: string): void {
    this.parts.say(words);
    this.parts.noteRefused(true);
  }
}

function rulesInWords(count: number): string {
  return count === 1 ? "1 rule is" : `${count} rules are`;
}

function sentence(clause: string): string {
  return `${clause.charAt(0).toUpperCase()}${clause.slice(1)}.`;
}
