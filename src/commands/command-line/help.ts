import type { OptionTable } from "./arguments.ts";
import type { Command } from "./command.ts";
import { HELP } from "./options.ts";

const INPUTS = [
  ["FILE", "a recording: candump lines, pcap or pcapng, with or without gzip"],
  ["FOLDER", "the recordings in it, in time order"],
  ["-", "candump lines on standard input, live"],
  ["socketcan:can0", "a CAN interface of this computer, live"],
  ["slcan:/dev/ttyACM0", "a serial CAN adapter, live"],
  ["tcp:HOST:PORT", "candump lines from another computer, live"],
  ["simulator:NAME", "a made-up boat, such as simulator:harbour-day"],
];

/**
 * The page that `sternfast --help` prints.
 * @param commands what the list says of each, by name
 */
export function generalHelp(commands: ReadonlyMap<string, { readonly summary: string }>): string {
  return [
    "Sternfast tells you how your boat is when you are not aboard.",
    "It reads the boat's bus, puts every value on MQTT, judges them by your rules,",
    "and tells your phone when something is wrong.",
    "",
    "sternfast COMMAND …",
    "",
    ...table([...commands].map(([name, { summary }]) => [name, summary])),
    "",
    "INPUT is one of",
    "",
    ...table(INPUTS),
    "",
    "sternfast COMMAND --help tells more, sternfast --version which one this is.",
    "Until it is installed, sternfast is called deno task sternfast.",
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
    ...optionLines({ ...command.options, ...HELP }),
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

const WIDEST = 26;

/** What is too wide for its column has the words about it on the next line. */
function table(rows: readonly (readonly string[])[]): string[] {
  const width = Math.min(WIDEST, Math.max(...rows.map((row) => row[0].length)));
  return rows.flatMap(([left, right]) =>
    left.length > width
      ? [`  ${left}`, `  ${"".padEnd(width)}  ${right}`]
      : [`  ${left.padEnd(width)}  ${right}`]
  );
}
