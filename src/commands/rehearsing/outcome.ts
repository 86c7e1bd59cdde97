import { dirname, resolve } from "node:path";
import type { Rule } from "../../alarms/rules/rule.ts";
import { changeLine } from "../../formats/change-lines.ts";
import { AlarmNames } from "../../rehearsal/alarm-names.ts";
import { draftExpectations } from "../../rehearsal/expectations/draft.ts";
import { judgeRun, occurrencesIn } from "../../rehearsal/expectations/judge-run.ts";
import { verdictLines } from "../../rehearsal/expectations/verdict-lines.ts";
import type { RunPart } from "../../rehearsal/run.ts";
import type { RunRecord } from "../../rehearsal/run-record.ts";
import { runWords } from "../../rehearsal/run-words.ts";
import { probed } from "../../rehearsal/why/probes.ts";
import { whyNotBuiltIn } from "../../rehearsal/why/why-built-in.ts";
import { whyLines, whyNotIn } from "../../rehearsal/why/why-lines.ts";
import { healthLines, type HealthTable, healthTable } from "../../rehearsal/health/health-lines.ts";
import { healthObject } from "../../rehearsal/health/health-object.ts";
import { healthOf, type HealthRun } from "../../rehearsal/health/health.ts";
import { type Occurrence, occurrencesOf } from "../../rehearsal/occurrences.ts";
import { raisedByAbsence } from "../../rehearsal/who-is-aboard.ts";
import { type ReportedRun, reportPage } from "../../rehearsal/report/report.ts";
import type { Sweep } from "../../rehearsal/tuning/sweep.ts";
import { Tallies } from "../../rehearsal/tuning/tally.ts";
import { tuningObject } from "../../rehearsal/tuning/tuning-object.ts";
import { tuningLines } from "../../rehearsal/tuning/tuning-lines.ts";
import { isFalseAlarm } from "../../rehearsal/expectations/verdict.ts";
import type { Surroundings } from "../command-line/command.ts";
import { CommandFailure, ExitCode } from "../command-line/exit-codes.ts";
import { speakOf } from "../settings/read-boat.ts";
import { speakOfEarlyEnd, speakOfSource } from "../sources/read-source.ts";
import type { CaseFile } from "./cases.ts";
import type { ExpectationFile } from "./expectations.ts";
import { draftPlace } from "./names-beside.ts";
import type { RecordingInput } from "./inputs.ts";
import type { RunReport } from "./rehearsed-run.ts";
import type { SoundSetup } from "../settings/setup.ts";
import { shortName } from "../command-line/text-file.ts";

interface Manner {
  readonly asJson: boolean;
  readonly drafting: boolean;
  /** Rules about which the person asks why. */
  readonly asked: readonly Rule[];
  readonly sweeps: readonly Sweep[];
  readonly health: boolean;
  /** Where the report goes; undefined: none is wanted. */
  readonly report: string | undefined;
  /** Whether the answers say who was aboard. */
  readonly isAboardKnown: boolean;
}

/** Shows each run as it ends and remembers what comes of it all. */
export class RehearsalOutcome {
  #code: ExitCode = ExitCode.well;
  #held = 0;
  #failed = 0;
  readonly #tallies: readonly Tallies[];
  readonly #runs: HealthRun[] = [];
  readonly #wrong = { count: 0, lasting: 0 };
  readonly #reported: ReportedRun[] = [];
  readonly #byAbsence = new Set<string>();

  constructor(
    readonly setup: SoundSetup,
    readonly around: Surroundings,
    readonly recordings: readonly RecordingInput[],
    /** By recording. */
    readonly expected: readonly (ExpectationFile | null)[],
    readonly manner: Manner,
  ) {
    this.#tallies = manner.sweeps.map((sweep) => new Tallies(sweep));
  }

  /** One run and what it was to bring. */
  async take({ first, record, sources, inVain }: RunReport): Promise<void> {
    const { terminal } = this.around;
    if (record !== null) {
      if (record.parts.length > 0) this.#show(record);
      for (const tag of raisedByAbsence(record, this.setup.rules)) this.#byAbsence.add(tag);
      this.#judge(record, (part) => this.expected[first + part.source]);
      if (this.manner.drafting) await this.#draft(record, first);
      if (speakOfEarlyEnd(record.endedEarly, terminal)) this.#code = ExitCode.wrongInput;
    }
    for (const sentence of inVain) terminal.error(sentence);
    for (const source of sources) {
      speakOfSource(source, terminal);
      const { frames, malformed } = source.counts;
      if (frames > 0) continue;
      // What it should bring was held against nothing: that must not pass for well.
      this.#code = ExitCode.wrongInput;
      if (malformed > 0) continue;
      terminal.error(`${source.title}: no frame was found in it, and nothing was rehearsed.`);
    }
  }

  /** Says what was no recording, after all that could be read. */
  leaveOut(sentences: readonly string[]): void {
    for (const sentence of sentences) this.around.terminal.error(`${sentence}. It was left out.`);
    if (sentences.length > 0) this.#code = ExitCode.wrongInput;
  }

  takeCase({ name, synthetic }: CaseFile, record: RunRecord): void {
    const { alarms, never } = synthetic.expectations;
    const spoken = new Set([...alarms, ...never].map(({ tag }) => tag));
    // A case leaves out on purpose what it does not speak of.
    const rules = record.rules.filter((rule) => rule.standing === "judged" || spoken.has(rule.tag));
    this.#show({ ...record, rules });
    this.#judge(record, () => ({ name, expectations: synthetic.expectations }));
  }

  /** The exit code, after one sentence where there is more than one file of expectations. */
  async end(): Promise<ExitCode> {
    const health = this.manner.health ? healthOf(this.#runs) : null;
    const table = health === null ? null : healthTable(health, this.#wrong);
    if (this.manner.report !== undefined) await this.#report(this.manner.report, table);
    for (const tallies of this.#tallies) {
      this.#give(() => tuningObject(tallies), () => [...tuningLines(tallies), ""]);
    }
    if (health !== null && table !== null) {
      this.#give(() => healthObject(health, this.#wrong), () => [...healthLines(table), ""]);
    }
    const isHintWanted = !this.manner.asJson && !this.manner.isAboardKnown;
    if (this.#byAbsence.size > 0 && isHintWanted) {
      this.#say(
        `Nobody counts as aboard where nobody has said so; that is why ${
          [...this.#byAbsence].join(" and ")
        } came. A file for --answer can say who was: conditions: [{ at: …, condition: aboard }].`,
      );
    }
    const judged = this.#held + this.#failed;
    if (judged > 1) {
      this.#say(
        this.#failed === 0
          ? `All ${judged} files of expectations hold.`
          : `${this.#failed} of ${judged} files of expectations ${
            this.#failed === 1 ? "does" : "do"
          } not hold.`,
      );
    }
    if (this.#code !== ExitCode.well) return this.#code;
    return this.#failed > 0 ? ExitCode.doesNotHold : ExitCode.well;
  }

  #show(record: RunRecord): void {
    const { terminal } = this.around;
    const { rules, boat } = this.setup;
    const { units: owners } = boat;
    if (this.manner.asJson) {
      for (const change of record.told) terminal.out(changeLine(change));
    } else {
      for (const line of runWords(record, { names: new AlarmNames(rules), owners })) {
        terminal.out(line);
      }
      terminal.out("");
    }
    for (const rule of this.manner.asked) {
      for (const line of whyLines(record, rule, { rules, owners })) this.#say(line);
      this.#say("");
    }
  }

  #judge(record: RunRecord, fileOf: (part: RunPart) => ExpectationFile | null): void {
    const { rules, boat } = this.setup;
    const expectationsOf = (part: RunPart) => fileOf(part)?.expectations ?? null;
    for (const tallies of this.#tallies) tallies.take(record, expectationsOf);
    this.#keep(record);
    const verdicts: ReportedRun["verdicts"][number][] = [];
    if (this.manner.report !== undefined) this.#reported.push({ record, verdicts });
    for (const { part, verdict } of judgeRun(record, expectationsOf)) {
      this.#wrong.count += verdict.misses.filter(isFalseAlarm).length;
      this.#wrong.lasting += part.ends - part.begins;
      speakOf(verdict.problems, "the expectations were not held", this.around.terminal);
      const lines = verdictLines(fileOf(part)?.name ?? part.title, verdict, {
        rules,
        begins: part.begins,
        ends: part.ends,
        clockSettings: record.clockSettings,
        active: (line) => probed(line, record.hidden, record.ends).unsuppressed,
        whyNot: ({ line, due, taken }, say) => {
          const rule = rules.find(({ tag }) => tag === line.tag);
          if (rule === undefined) return whyNotBuiltIn(record, line);
          const sought = { due, taken: taken.map(({ raised }) => raised) };
          return whyNotIn(record, rule, line.subject, { rules, owners: boat.units }, say, sought);
        },
      });
      if (verdict.misses.length > 0) this.#failed++;
      else this.#held++;
      verdicts.push({ holds: verdict.misses.length === 0, lines });
      for (const line of lines) this.#say(line);
      this.#say("");
    }
  }

  /** Only what is asked for: a season of runs must not lie in memory for nothing. */
  #keep({ begins, ends, stood, changes }: RunRecord): void {
    if (!this.manner.health) return;
    const all = occurrencesOf([...stood, ...changes]);
    const isOld = ({ raising }: Occurrence) => stood.includes(raising);
    this.#runs.push({
      begins,
      ends,
      occurrences: all.filter((one) => !isOld(one)),
      stood: all.filter(isOld),
    });
  }

  async #report(place: string, health: HealthTable | null): Promise<void> {
    const { terminal, folder } = this.around;
    const { boat, rules } = this.setup;
    const page = reportPage({
      boat: boat.name,
      rules,
      owners: boat.units,
      runs: this.#reported,
      tallies: this.#tallies,
      health,
    });
    await writeResult(resolve(folder, place), page, folder, {});
    terminal.error(`The report is in ${shortName(resolve(folder, place), folder)}`);
  }

  async #draft(record: RunRecord, first: number): Promise<void> {
    const { terminal, folder } = this.around;
    for (const part of record.parts) {
      const { path } = this.recordings[first + part.source];
      if (path === undefined) {
        terminal.error(`${part.title}: no file can lie beside it, and nothing was drafted.`);
        continue;
      }
      const place = draftPlace(path);
      const known = this.expected[first + part.source];
      const name = known?.name ?? shortName(place, folder);
      const text = draftExpectations(part, occurrencesIn(record, part), record.rules);
      terminal.error(
        known === null && await writeResult(place, text, folder, { createNew: true })
          ? `${name} was drafted; read it and edit it before you trust it.`
          : `${name} is there already and was left as it is.`,
      );
    }
  }

  /** A result: one line of data, or lines for a person. */
  #give(data: () => unknown, lines: () => string[]): void {
    const { terminal } = this.around;
    if (this.manner.asJson) terminal.out(JSON.stringify(data()));
    else for (const line of lines()) terminal.out(line);
  }

  /** Where results are data, sentences go beside them. */
  #say(line: string): void {
    const { terminal } = this.around;
    if (!this.manner.asJson) terminal.out(line);
    else if (line !== "") terminal.error(line);
  }
}

/**
 * What takes minutes must not be lost to a slip in the name of its report or its memory.
 * @param option `--report`, as the person typed it
 * @throws {CommandFailure} where the folder is not there
 */
export async function expectFolderOf(
  option: string,
  place: string | undefined,
  folder: string,
): Promise<void> {
  if (place === undefined) return;
  const around = dirname(resolve(folder, place));
  const isFolder = await Deno.stat(around).then((info) => info.isDirectory, () => false);
  if (isFolder) return;
  throw new CommandFailure(
    `${option}: there is no folder ${shortName(around, folder)}; nothing was rehearsed.`,
  );
}

/**
 * Writes a file for the person; false where one is there that must not be replaced.
 * @throws {CommandFailure} where it cannot be written
 */
async function writeResult(
  place: string,
  text: string,
  folder: string,
  options: Deno.WriteFileOptions,
): Promise<boolean> {
  try {
    await Deno.writeTextFile(place, text, options);
    return true;
  } catch (error) {
    if (error instanceof Deno.errors.AlreadyExists) return false;
    const why = error instanceof Error ? error.message : String(error);
    throw new CommandFailure(`${shortName(place, folder)} cannot be written: ${why}.`);
  }
}
