/**
 * Opens the input that its first word names and prints the frames as candump lines as they come,
 * until it has printed as many as the second word says; then it stops the source. A program of its
 * own, since standard input belongs to a process.
 */
import { BusNames } from "../../src/bus/bus-names.ts";
import { openInput } from "../../src/bus/open-input.ts";
import { CandumpWriter } from "../../src/bus/recordings/candump-writer.ts";

const [input, most] = Deno.args;
const buses = new BusNames();
const source = await openInput(input, { buses, folder: Deno.cwd() });
const writer = new CandumpWriter(buses);
let printed = 0;
for await (const batch of source.batches()) {
  await Deno.stdout.write(writer.lines(batch));
  printed += batch.count;
  if (printed >= Number(most)) source.stop();
}
