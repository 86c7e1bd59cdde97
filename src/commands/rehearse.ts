import type { Rule } from "../alarms/rules/rule.ts";
import { changeLine } from "../formats/change-lines.ts";
import { draftExpectations } from "../rehearsal/expectations/draft.ts";
import { judgeRun, occurrencesIn } from "../rehearsal/expectations/judge-run.ts";
import { verdictLines } from "../rehearsal/expectations/verdict-lines.ts";
import type { RunPart } from "../rehearsal/run.ts";
import type { RunRecord } from "../rehearsal/run-record.ts";
import { runWords, sayNearest } from "../rehearsal/run-words.ts";
import { parseDuration } from "../units/duration.ts";
import type { Command, Surroundings } from "./command.ts";
import { CommandFailure, ExitCode } from "./exit-codes.ts";
import { BOAT, JSON_LINES, RULES } from "./options.ts";
import { KNOWN_QUANTITIES, speakOf } from "./read-boat.ts";
import { speakOfEarlyEnd, speakOfSource } from "./read-source.ts";
import { realClock } from "./real-clock.ts";
import {
  type ExpectationFile,
  expectationsBeside,
  expectationsPlace,
} from "./rehearse-expectations.ts";
import { gapsOf, type RecordingInput, rehearsalInputs } from "./rehearse-inputs.ts";
import { Progress } from "./rehearse-progress.ts";
import type { RunReport } from "./rehearse-run.ts";
import { allRuns } from "./rehearse-threads.ts";
import { readSetup, type SoundSetup } from "./setup.ts";
import { shortName } from "./text-file.ts";

export const rehearse: Command = {
  name: "rehearse",
  summary: "try your rules on recordings: what would they have told you?",
  usage: "sternfast rehearse INPUT…",
  description:
    `Runs recordings through your rules as fast as it can, by the recorded time, and shows
every alarm with its time since the start of the run, then what each rule came to.
Recordings whose ends meet are one run; each run starts cold. What must come is read
from NAME.expect.yaml beside NAME.log.gz; exit code 1 when it does not hold.`,
  examples: [
    "sternfast rehearse trip.log.gz --boat boat.yaml --rules rules",
    "sternfast rehearse trip.log.gz --write-expectations",
    "sternfast rehearse recordings/ --answer never --json",
  ],
  options: {
    ...BOAT,
    ...RULES,
    "answer": { value: "'never'|'after 60 s'", help: "when a person answers an alarm; after 60 s" },
    "write-expectations": {
      help: "draft NAME.expect.yaml beside each recording, for you to edit",
    },
    ...JSON_LINES,
  },
  async run(given, around) {
    const { terminal, interrupted } = around;
    const setup = await readSetup(given, around);
    if (setup.inputs.length === 0) throw new CommandFailure("rehearse needs a recording: INPUT…");
    if (setup.rules.length === 0) {
      throw new CommandFailure("rehearse needs rules: --rules FILE|DIR, or rules: in the settings");
    }
    const wait = readAnswer(given.text("answer") ?? "after 60 s");
    const { recordings } = await rehearsalInputs(setup.inputs, setup.inputFolder, terminal);
    const known = { rules: setup.rules, boat: setup.boat, catalogue: KNOWN_QUANTITIES };
    const expected = await expectationsBeside(recordings, known, around.folder, terminal);

    const rehearsal = new Rehearsal(setup, around, recordings, expected, {
      asJson: given.flag("json"),
      drafting: given.flag("write-expectations"),
    });
    const clock = realClock();
    const progress = new Progress(recordings, () => clock.steady());
    const runs = allRuns({
      inputs: recordings.map(({ input }) => input),
      folder: setup.inputFolder,
      boat: setup.boat,
      rules: [...setup.rules, ...markRules(expected)],
      wait,
    }, {
      threads: worthThreads(recordings) ? navigator.hardwareConcurrency : 1,
      stopped: interrupted,
      gaps: gapsOf(recordings),
      onProgress: (done) => terminal.status(progress.line(done)),
    });
    terminal.status(progress.line(0));
    for await (const report of runs) await rehearsal.take(report);
    return rehearsal.end();
  },
};

interface Manner {
  readonly asJson: boolean;
  readonly drafting: boolean;
}

/** Shows each run as it ends and remembers what comes of it all. */
class Rehearsal {
  #code: ExitCode = ExitCode.well;
  #held = 0;
  #failed = 0;

  constructor(
    readonly setup: SoundSetup,
    readonly around: Surroundings,
    readonly recordings: readonly RecordingInput[],
    /** By recording. */
    readonly expected: readonly (ExpectationFile | null)[],
    readonly manner: Manner,
  ) {}

  async take({ first, record, sources }: RunReport): Promise<void> {
    const { terminal } = this.around;
    if (record !== null) {
      if (record.parts.length > 0) this.#show(record);
      this.#judge(record, first);
      if (this.manner.drafting) await this.#draft(record, first);
      if (speakOfEarlyEnd(record.endedEarly, terminal)) this.#code = ExitCode.wrongInput;
    }
    for (const source of sources) speakOfSource(source, terminal);
  }

  /** The exit code, after one sentence where there is more than one file of expectations. */
  end(): ExitCode {
    const judged = this.#held + this.#failed;
    if (judged > 1) {
      this.#say(
        this.#failed === 0
          ? `All ${judged} files of expectations hold.`
          : `${this.#failed} of ${judged} files of expectations do not hold.`,
      );
    }
    if (this.#code !== ExitCode.well) return this.#code;
    return this.#failed > 0 ? ExitCode.doesNotHold : ExitCode.well;
  }

  #show(record: RunRecord): void {
    const { terminal } = this.around;
    if (this.manner.asJson) {
      for (const change of record.changes) terminal.out(changeLine(change));
      return;
    }
    const { rules, boat } = this.setup;
    const titles = new Map(rules.map(({ tag, title }) => [tag, title]));
    for (const line of runWords(record, { titles, owners: boat.units })) terminal.out(line);
    terminal.out("");
  }

  #judge(record: RunRecord, first: number): void {
    const { rules, boat } = this.setup;
    const fileOf = (part: RunPart) => this.expected[first + part.source];
    for (
      const { part, verdict } of judgeRun(record, (part) => fileOf(part)?.expectations ?? null)
    ) {
      speakOf(verdict.problems, "the expectations were not held", this.around.terminal);
      const lines = verdictLines(fileOf(part)?.name ?? part.title, verdict, {
        rules,
        begins: part.begins,
        ends: record.ends,
        figures: record.rules,
        sayNearest: ({ least }) => least === null ? "" : sayNearest(least, boat.units),
      });
      if (verdict.misses.length > 0) this.#failed++;
      else this.#held++;
      for (const line of lines) this.#say(line);
      this.#say("");
    }
  }

  async #draft(record: RunRecord, first: number): Promise<void> {
    const { terminal, folder } = this.around;
    for (const part of record.parts) {
      const { stem } = this.recordings[first + part.source];
      if (stem === undefined) continue;
      const place = expectationsPlace(stem);
      const name = shortName(place, folder);
      const text = draftExpectations(part, occurrencesIn(record, part), record.rules);
      try {
        await Deno.writeTextFile(place, text, { createNew: true });
        terminal.error(`${name} was drafted; read it and edit it before you trust it.`);
      } catch (error) {
        if (!(error instanceof Deno.errors.AlreadyExists)) {
          const why = error instanceof Error ? error.message : String(error);
          throw new CommandFailure(`${name} cannot be written: ${why}.`);
        }
        terminal.error(`${name} is there already and was left as it is.`);
      }
    }
  }

  /** Where results are data, sentences go beside them. */
  #say(line: string): void {
    const { terminal } = this.around;
    if (!this.manner.asJson) terminal.out(line);
    else if (line !== "") terminal.error(line);
  }
}

/** A thread takes half a second to begin: as long as some megabytes take to be followed. */
function worthThreads(recordings: readonly RecordingInput[]): boolean {
  return recordings.reduce((sum, { size }) => sum + size, 0) > 2_000_000;
}

/** The hidden rules that find marks, each once. */
function markRules(files: readonly (ExpectationFile | null)[]): Rule[] {
  const rules = files.flatMap((file) => file?.expectations.marks.map(({ rule }) => rule) ?? []);
  return [...new Map(rules.map((rule) => [rule.tag, rule])).values()];
}

/** Microseconds from raising to answer; null for never. */
function readAnswer(text: string): number | null {
  if (text === "never") return null;
  const after = /^after (.+)$/.exec(text);
  const wait = after === null ? undefined : parseDuration(after[1]);
  if (wait?.ok) return wait.value;
  throw new CommandFailure(`--answer: found "${text}", expected never or 'after 60 s'`);
}
