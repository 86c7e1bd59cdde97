import { fileURLToPath } from "node:url";
import type { Command } from "./command.ts";
import { type HostAndPort, readPage } from "./host-and-port.ts";
import { readBoat, readRuleSet } from "./read-boat.ts";
import { watchBoat } from "./watch-boat.ts";

/** The example boat lies beside the program. */
const EXAMPLE = fileURLToPath(new URL("../../examples/hazel-comfort", import.meta.url));
const SCENARIO = "harbour-day";

export const demo: Command = {
  name: "demo",
  summary: "the same on a made-up boat: no hardware, no broker, nothing to set up",
  usage: "sternfast demo",
  description:
    `Plays a day of the example boat as if it were live: its frames go the same way as those of
a real bus. After about a minute the port engine loses oil pressure under load.
Stop it with Ctrl-C.`,
  examples: ["sternfast demo", "sternfast demo --page 127.0.0.1:8300"],
  options: {
    page: { value: "HOST:PORT", help: "where the page is; 127.0.0.1:8250, or any free port" },
  },
  async run(given, around) {
    const { terminal } = around;
    terminal.error("This is the demo: a made-up boat called Hazel Comfort.");
    return await watchBoat({
      around,
      settings: undefined,
      boat: await readBoat(`${EXAMPLE}/boat.yaml`, EXAMPLE, terminal),
      rules: await readRuleSet([`${EXAMPLE}/rules`], EXAMPLE, terminal),
      inputs: [`simulator:${SCENARIO}`],
      inputFolder: EXAMPLE,
      broker: "embedded",
      brokerPort: 0,
      page: readPage(given.text("page")) ?? freeAddress(),
      state: undefined,
      demo: true,
    });
  },
};

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
