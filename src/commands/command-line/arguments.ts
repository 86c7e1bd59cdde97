import { parseArgs } from "node:util";
import { nearestName } from "../../ground/spelling.ts";
import { CommandFailure } from "./exit-codes.ts";

export interface Option {
  /** The word for its value in the help ("FILE"); absent for a switch. */
  readonly value?: string;
  readonly repeatable?: boolean;
  readonly help: string;
}

export type OptionTable = Readonly<Record<string, Option>>;

/** What a person typed after the command's name. */
export class Arguments {
  readonly #values: ReadonlyMap<string, readonly string[]>;

  constructor(readonly words: readonly string[], values: ReadonlyMap<string, readonly string[]>) {
    this.#values = values;
  }

  flag(name: string): boolean {
    return this.#values.has(name);
  }

  /** The last value given, or undefined. */
  text(name: string): string | undefined {
    return this.#values.get(name)?.at(-1);
  }

  /** Every value given, in order. */
  texts(name: string): readonly string[] {
    return this.#values.get(name) ?? [];
  }
}

/** @throws {CommandFailure} with the nearest valid option for one that is not known */
export function parseArguments(
  command: string,
  options: OptionTable,
  given: readonly string[],
): Arguments {
  const known = Object.fromEntries(
    Object.entries(options).map(([name, option]) => [
      name,
      { type: option.value === undefined ? "boolean" as const : "string" as const, multiple: true },
    ]),
  );
  const { tokens } = parseArgs({
    args: [...given],
    options: known,
    strict: false,
    allowPositionals: true,
    tokens: true,
  });
  const words: string[] = [];
  const values = new Map<string, string[]>();
  for (const token of tokens) {
    if (token.kind === "positional") words.push(token.value);
    if (token.kind !== "option") continue;
    const option = options[token.name];
    if (option === undefined) throw unknownOption(command, token.rawName, options);
    const earlier = values.get(token.name) ?? [];
    if (option.value === undefined) {
      if (token.value !== undefined) {
        throw new CommandFailure(`${token.rawName} is a switch and takes no value`);
      }
      values.set(token.name, earlier);
      continue;
    }
    // The next option is no value: something was left out between the two.
    const missing = token.value === undefined || token.value === "" ||
      (!token.inlineValue && token.value.startsWith("--"));
    if (missing) {
      throw new CommandFailure(`${token.rawName} needs a value: ${token.rawName} ${option.value}`);
    }
    if (earlier.length > 0 && !option.repeatable) {
      throw new CommandFailure(`${token.rawName} is given twice`);
    }
    values.set(token.name, [...earlier, token.value]);
  }
  return new Arguments(words, values);
}

function unknownOption(command: string, found: string, options: OptionTable): CommandFailure {
  const nearest = nearestName(found.replace(/^-+/, ""), Object.keys(options));
  const meant = nearest === undefined ? "" : `; did you mean --${nearest}?`;
  return new CommandFailure(
    `found ${found}, which ${command} does not know${meant} (sternfast ${command} --help lists them)`,
  );
}
