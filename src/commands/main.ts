/**
 * The command line. This folder is the only one that knows everything: it owns the real clock, the
 * terminal and the process, and wires the floors together. Nothing imports it.
 *
 * Order of calls: main → one command → files read (`read-*.ts`) → sources opened → `watch.ts` fed
 * → outlets. A stop goes the same way: close the bus, drain, then close the outlets.
 */
import project from "../../deno.json" with { type: "json" };
import { nearestName } from "../ground/spelling.ts";
import { parseArguments } from "./command-line/arguments.ts";
import { COMMANDS } from "./commands.ts";
import { CommandFailure, ExitCode } from "./command-line/exit-codes.ts";
import { commandHelp, generalHelp } from "./command-line/help.ts";
import { HELP } from "./command-line/options.ts";
import { realTerminal, type Terminal } from "./command-line/terminal.ts";

async function main(typed: readonly string[], terminal: Terminal): Promise<ExitCode> {
  const [name, ...rest] = typed;
  if (name === undefined || ["--help", "-h", "help"].includes(name)) {
    terminal.out(generalHelp(COMMANDS));
    return name === undefined ? ExitCode.wrongInput : ExitCode.well;
  }
  if (name === "--version") {
    terminal.out(`sternfast ${project.version}`);
    return ExitCode.well;
  }
  const command = await COMMANDS.get(name)?.load();
  if (command === undefined) {
    const nearest = nearestName(name, [...COMMANDS.keys()]);
    const meant = nearest === undefined ? "" : `; did you mean ${nearest}?`;
    throw new CommandFailure(
      `found "${name}", which is no command${meant} (sternfast --help lists them)`,
    );
  }
  const given = parseArguments(name, { ...command.options, ...HELP }, rest);
  if (given.flag("help")) {
    terminal.out(commandHelp(command));
    return ExitCode.well;
  }
  const interrupted = interruption();
  const code = await command.run(given, {
    terminal,
    folder: Deno.env.get("INIT_CWD") ?? Deno.cwd(),
    interrupted,
  });
  return interrupted.aborted ? interrupted.reason : code;
}

/** The first interrupt asks for a clean stop; a second one stops at once. */
function interruption(): AbortSignal {
  const controller = new AbortController();
  const stop = (code: ExitCode) => () => {
    if (controller.signal.aborted) Deno.exit(code);
    controller.abort(code);
  };
  Deno.addSignalListener("SIGINT", stop(ExitCode.interrupted));
  Deno.addSignalListener("SIGTERM", stop(ExitCode.terminated));
  return controller.signal;
}

const terminal = realTerminal();
try {
  Deno.exit(await main(Deno.args, terminal));
} catch (error) {
  if (error instanceof CommandFailure) {
    terminal.error(error.message);
    Deno.exit(error.exitCode);
  }
  // A reader that went away (`| head`) is no fault.
  if (error instanceof Deno.errors.BrokenPipe) Deno.exit(ExitCode.well);
  throw error;
}
