import { resolve } from "node:path";
import type { AlarmRecord } from "../../alarms/alarm-record.ts";
import { memoryLines, readMemory } from "../../rehearsal/memory-lines.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import type { Terminal } from "../command-line/terminal.ts";
import { readTextFile, shortName } from "../command-line/text-file.ts";
import { speakOf } from "../settings/read-boat.ts";

/** The file of `--memory`: what alarms knew before the first run, and know after the last. */
export class KeptMemory {
  private constructor(
    readonly path: string,
    readonly name: string,
    readonly before: readonly AlarmRecord[],
  ) {}

  /**
   * A file that is not there yet remembers nothing.
   * @throws {CommandFailure} with every line that cannot be read
   */
  static async open(place: string, folder: string, terminal: Terminal): Promise<KeptMemory> {
    const path = resolve(folder, place);
    const name = shortName(path, folder);
    const isThere = await Deno.stat(path).then(() => true, () => false);
    if (!isThere) return new KeptMemory(path, name, []);
    const { text } = await readTextFile(place, folder);
    const { records, problems } = readMemory(name, text);
    speakOf(problems, "nothing was rehearsed", terminal);
    return new KeptMemory(path, name, records);
  }

  /**
   * Whole or not at all.
   * @throws {CommandFailure} where it cannot be written
   */
  async save(records: readonly AlarmRecord[]): Promise<void> {
    const beside = `${this.path}.new`;
    try {
      await Deno.writeTextFile(beside, memoryLines(records));
      await Deno.rename(beside, this.path);
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      throw new CommandFailure(`${this.name} cannot be written: ${why}.`);
    }
  }
}
