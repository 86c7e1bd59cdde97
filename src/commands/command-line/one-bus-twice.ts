import { busOfDevice } from "../../bus/adapters/slcan/bus-of-device.ts";
import { parseInputText } from "../../bus/input-text.ts";
import { CommandFailure } from "./exit-codes.ts";

/**
 * Two adapters never become one bus: what both say would be taken for a device that says it twice.
 * Recordings may have one name, as parts of one.
 * @throws {CommandFailure}
 */
export function refuseOneBusTwice(inputs: readonly string[]): void {
  const live = new Map<string, string>();
  for (const text of inputs) {
    const bus = liveBusOf(text);
    if (bus === undefined) continue;
    const other = live.get(bus);
    if (other !== undefined) {
      throw new CommandFailure(
        `Input: ${other} and ${text} are both the bus ${bus}; give each a name of its own, as in ` +
          "port=slcan:/dev/ttyACM0.",
      );
    }
    live.set(bus, text);
  }
}

/** The name of the bus that a live input brings, where it is known before anything is heard. */
function liveBusOf(text: string): string | undefined {
  const input = parseInputText(text);
  switch (input.kind) {
    case "socketcan":
      return input.bus ?? input.interface;
    case "slcan":
      return input.bus ?? busOfDevice(input.device);
    case "tcp":
    case "standard-input":
      return input.bus;
    default:
      return undefined;
  }
}
