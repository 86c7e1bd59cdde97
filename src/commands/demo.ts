import { fileURLToPath } from "node:url";
import type { Micros } from "../ground/time.ts";
import { parseDuration } from "../units/duration.ts";
import type { Command } from "./command-line/command.ts";
import { CommandFailure } from "./command-line/exit-codes.ts";
import { type HostAndPort, readPage } from "./command-line/host-and-port.ts";
import { readBoat } from "./settings/read-boat.ts";
import { readTextFiles } from "./command-line/text-file.ts";
import { watchBoat } from "./watching/watch-boat.ts";

/** The example boat lies beside the program. */
const EXAMPLE = fileURLToPath(new URL("../../examples/hazel-comfort", import.meta.url));
const SCENARIO = "harbour-day";

export const demo: Command = {
  name: "demo",
  usage: "sternfast demo",
  description:
    `Plays a day of the example boat as if it were live: its frames go the same way as those of
a real bus. After about a minute the port engine loses oil pressure under load; a quarter
of an hour later the shore charger fails. Stop it with Ctrl-C.`,
  examples: ["sternfast demo", "sternfast demo --from '60 s' --page 127.0.0.1:8300"],
  options: {
    page: { value: "HOST:PORT", help: "where the page is; 127.0.0.1:8250, or any free port" },
    from: { value: "TIME", help: "begin so far into the day, such as '60 s'; 0 s" },
  },
  async run(given, around) {
    const { terminal } = around;
    terminal.error(
      "This is the demo: a made-up boat called Hazel Comfort, as if it were live.\n" +
        "In about a minute its port engine loses oil pressure. Ctrl-C stops it.",
    );
    const rereadRules = () => readTextFiles("rules", EXAMPLE);
    return await watchBoat({
      around,
      settings: undefined,
      boat: await readBoat("boat.yaml", EXAMPLE, terminal),
      ruleFiles: await rereadRules(),
      rereadRules,
      inputs: [`simulator:${SCENARIO}`],
      inputFolder: EXAMPLE,
      broker: "embedded",
      brokerPort: 0,
      page: readPage(given.text("page")) ?? freeAddress(),
      state: undefined,
      demo: true,
      asJson: false,
      begunFor: readBegunFor(given.text("from")),
    });
  },
};

/** @throws {CommandFailure} for what is no length of time */
function readBegunFor(text: string | undefined): Micros {
  const read = parseDuration(text ?? "0 s");
  if (read.ok) return read.value;
  throw new CommandFailure(`--from: found "${text}", expected ${read.expected}`);
}

const USUAL_PORT = 8250;

/** The usual port, or any that is free where another program has that. */
function freeAddress(): HostAndPort {
  const hostname = "127.0.0.1";
  try {
    Deno.listen({ hostname, port: USUAL_PORT }).close();
    return { hostname, port: USUAL_PORT };
  } catch (error) {
    if (error instanceof Deno.errors.AddrInUse) return { hostname, port: 0 };
    throw error;
  }
}
