import type { Command, Surroundings } from "./command-line/command.ts";
import type { Arguments } from "./command-line/arguments.ts";
import { CommandFailure, type ExitCode } from "./command-line/exit-codes.ts";
import { readPage } from "./command-line/host-and-port.ts";
import { BOAT, JSON_LINES, RULES } from "./command-line/options.ts";
import { readSetupFiles } from "./settings/setup.ts";
import { watchBoat } from "./watching/watch-boat.ts";

export const run: Command = {
  name: "run",
  usage: "sternfast run [INPUT…]",
  description:
    `Reads the boat's bus and does what the settings say. The bus is only read. A recording is
read as fast as it can be, by its own time; a made-up boat runs by the clock. Every alarm
is printed as it comes and goes. Without a state folder nothing is kept over a restart.`,
  examples: [
    "candump -L can0 | sternfast run -",
    "sternfast run trip.log.gz --boat boat.yaml --rules rules --broker mqtt://localhost:1883",
  ],
  options: {
    ...BOAT,
    ...RULES,
    broker: { value: "URL|embedded", help: "the MQTT broker, such as mqtt://localhost:1883" },
    page: { value: "HOST:PORT", help: "serve the page here, such as 127.0.0.1:8250" },
    state: { value: "DIR", help: "keep alarms and events in this folder" },
    ...JSON_LINES,
  },
  async run(given: Arguments, around: Surroundings): Promise<ExitCode> {
    const setup = await readSetupFiles(given, around);
    if (setup.inputs.length === 0) {
      throw new CommandFailure("run needs an input: INPUT…, or input: in the settings");
    }
    return await watchBoat({
      ...setup,
      around,
      broker: given.text("broker") ?? setup.settings?.mqtt?.broker,
      page: readPage(given.text("page")) ?? setup.settings?.page?.address,
      state: given.text("state") ?? setup.settings?.state,
      demo: false,
      asJson: given.flag("json"),
    });
  },
};
