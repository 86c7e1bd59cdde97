import { PseudoTerminal } from "./pseudo-terminal.ts";

/** What an adapter answers to a command: empty is "done", the bell is "refused". */
export type Answers = Readonly<Record<string, string>>;

const DONE = "\r";
export const REFUSED = "\x07";

/** A serial CAN adapter on a pseudo-terminal: it answers commands, and gives lines once it is open. */
export class SlcanAdapter {
  readonly commands: string[] = [];
  readonly #terminal = new PseudoTerminal();
  readonly #answers: Answers;
  readonly #lines: Uint8Array;
  readonly #served: Promise<void>;

  /** @param lines given each time the channel is opened */
  constructor(lines: Uint8Array, answers: Answers = {}) {
    this.#lines = lines;
    this.#answers = answers;
    this.#served = this.#serve();
  }

  get device(): string {
    return this.#terminal.device;
  }

  say(text: string): Promise<void> {
    return this.#terminal.write(new TextEncoder().encode(text));
  }

  async unplug(): Promise<void> {
    this.#terminal.unplug();
    await this.#served;
  }

  async #serve(): Promise<void> {
    let rest = "";
    for (;;) {
      const bytes = await this.#terminal.read();
      if (bytes === undefined) return;
      const typed = (rest + new TextDecoder().decode(bytes)).split("\r");
      rest = typed.pop() ?? "";
      for (const command of typed) await this.#obey(command);
    }
  }

  async #obey(command: string): Promise<void> {
    if (command === "") return;
    this.commands.push(command);
    const answer = this.#answers[command] ?? DONE;
    await this.say(answer);
    if (command === "L" && answer === DONE) void this.#terminal.write(this.#lines);
  }
}
