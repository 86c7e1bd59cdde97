import type { OptionTable } from "./arguments.ts";
import type { Command } from "./command.ts";

/** The page that `sternfast --help` prints. */
export function generalHelp(commands: readonly Command[]): string {
  return [
    "Sternfast tells you how your boat is when you are not aboard.",
    "It reads the boat's bus, puts every value on MQTT, judges them by your rules,",
    "and tells your phone when something is wrong.",
    "",
    "sternfast COMMAND …",
    "",
    ...table(commands.map((command) => [command.name, command.summary])),
    "",
    "An INPUT is a recording (a file or a folder), - for candump lines on standard input,",
    "or simulator:SCENARIO. sternfast COMMAND --help tells more.",
  ].join("\n");
}

/** The page that `sternfast COMMAND --help` prints. */
export function commandHelp(command: Command): string {
  return [
    command.usage,
    "",
    command.description,
    "",
    "Options",
    ...optionLines(command.options),
    "",
    "Examples",
    ...command.examples.map((example) => `  ${example}`),
  ].join("\n");
}

function optionLines(options: OptionTable): string[] {
  return table(
    Object.entries(options).map(([name, option]) => [
      `--${name}${option.value === undefined ? "" : ` ${option.value}`}`,
      option.help,
    ]),
  );
}

function table(rows: readonly (readonly string[])[]): string[] {
  const width = Math.max(...rows.map((row) => row[0].length));
  return rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`);
}
