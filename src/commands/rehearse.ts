import type { Rule } from "../alarms/rules/rule.ts";
import { runCase } from "../rehearsal/cases/run-case.ts";
import { hiddenRules } from "../rehearsal/expectations/hidden-rules-for.ts";
import type { Expectations } from "../rehearsal/expectations/expectations.ts";
import { Traces } from "../rehearsal/traces.ts";
import { coveringTried } from "../rehearsal/tuning/covering-tried.ts";
import { readSweep, type Sweep } from "../rehearsal/tuning/sweep.ts";
import { nearestName } from "../ground/spelling.ts";
import type { Command } from "./command-line/command.ts";
import { CommandFailure, ExitCode } from "./command-line/exit-codes.ts";
import { BOAT, JSON_LINES, RULES } from "./command-line/options.ts";
import { KNOWN_QUANTITIES } from "./settings/read-boat.ts";
import { realClock } from "./watching/real-clock.ts";
import { answeringOf, saysWhoIsAboard } from "./rehearsing/answering.ts";
import { readAnswer } from "./rehearsing/read-answer.ts";
import { readCases } from "./rehearsing/cases.ts";
import { expectationsBeside } from "./rehearsing/expectations.ts";
import { gapsOf, type RecordingInput, rehearsalInputs } from "./rehearsing/inputs.ts";
import { KeptMemory } from "./rehearsing/kept-memory.ts";
import { expectFolderOf, RehearsalOutcome } from "./rehearsing/outcome.ts";
import { Progress } from "./rehearsing/progress.ts";
import { allRuns } from "./rehearsing/threads.ts";
import { readSetup } from "./settings/setup.ts";

export const rehearse: Command = {
  name: "rehearse",
  usage: "sternfast rehearse INPUT…",
  description:
    `Runs recordings through your rules as fast as it can, by the recorded time, and shows
every alarm with its time since the start of the run, then what each rule came to.
Recordings whose ends meet are one run; each run starts cold. What must come is read
from NAME.expect.yaml beside NAME.log.gz; exit code 1 when it does not hold. A NAME.case.yaml
is made up and needs no recording. What is no recording is left out, and the exit code is 2.
With --json each change of an alarm is a line of data, and so are the health and each thing
tried. rules/rehearsing.md says what can stand in these files.`,
  examples: [
    "sternfast rehearse trip.log.gz --boat boat.yaml --rules rules",
    "sternfast rehearse trip.log.gz --write-expectations",
    "sternfast rehearse recordings/ --try 'charger-in-fault on-delay 10 to 120 s by 10'",
    "sternfast rehearse recordings/ --answer never --json",
    "sternfast rehearse season/ --memory usual.jsonl",
    "sternfast rehearse --trials trials.yaml",
  ],
  options: {
    ...BOAT,
    ...RULES,
    "answer": {
      value: "'never'|'after 60 s'|FILE",
      help: "when an alarm is answered; after 60 s; or FILE of answers",
    },
    "memory": {
      value: "FILE",
      help: "runs go in order and learn what is usual; FILE keeps it for next time",
    },
    "write-expectations": {
      help: "draft NAME.expect.yaml beside each recording, for you to edit",
    },
    "why": {
      value: "TAG",
      repeatable: true,
      help: "say of one rule when its alarm came, or why it did not",
    },
    "try": {
      value: "'TAG setpoint 8 to 16 psi by 1'",
      repeatable: true,
      help: "a rule's setpoint, shift, on-delay or off-delay at several values",
    },
    "health": { help: "rates, floods, chattering and standing alarms over all recordings" },
    "report": {
      value: "FILE.html",
      help: "write a page with every alarm drawn, to read or to print",
    },
    "trials": {
      value: "FILE",
      help: "sea trials: trips by chance, with and without faults",
    },
    ...JSON_LINES,
  },
  async run(given, around) {
    const { terminal, interrupted } = around;
    const setup = await readSetup(given, around);
    const trials = given.text("trials");
    if (setup.inputs.length === 0 && trials === undefined) {
      throw new CommandFailure("rehearse needs a recording: INPUT…");
    }
    if (setup.rules.length === 0) {
      throw new CommandFailure("rehearse needs rules: --rules FILE|DIR, or rules: in the settings");
    }
    const answers = await readAnswer(given.text("answer") ?? "after 60 s", setup.rules, around);
    if (trials !== undefined) {
      if (given.words.length > 0) {
        throw new CommandFailure("--trials makes trips of its own: leave the recordings out");
      }
      const other = OF_RECORDINGS.find((name) => given.flag(name));
      if (other !== undefined) {
        throw new CommandFailure(`--trials makes trips of its own: leave --${other} out`);
      }
      if (answers !== null && typeof answers !== "number") {
        throw new CommandFailure("--trials: --answer is never or 'after 60 s' here");
      }
      const { makeTrials } = await import("./rehearsing/sea-trials.ts");
      return await makeTrials(trials, setup, { wait: answers, asJson: given.flag("json"), around });
    }
    await expectFolderOf("--report", given.text("report"), around.folder);
    await expectFolderOf("--memory", given.text("memory"), around.folder);
    const { recordings, cases, leftOut } = await rehearsalInputs(setup.inputs, setup.inputFolder);
    const known = { rules: setup.rules, boat: setup.boat, catalogue: KNOWN_QUANTITIES };
    const expected = await expectationsBeside(recordings, known, around.folder, terminal);
    const synthetic = await readCases(cases, known, around.folder, terminal);

    const asked = given.texts("why").map((tag) => ruleOf(tag, setup.rules));
    const sweeps = given.texts("try").map((text, i) => sweepOf(text, setup.rules, i));
    const tried = sweeps.flatMap(({ variants }) => variants.map(({ rule }) => rule));
    const rules = coveringTried(setup.rules, sweeps);
    const hiddenFor = (files: readonly (Expectations | null)[]) => [
      ...hiddenRules(files, setup.rules, asked),
      ...tried,
    ];

    const tracing = given.text("report") !== undefined;
    const outcome = new RehearsalOutcome(setup, around, recordings, expected, {
      asJson: given.flag("json"),
      drafting: given.flag("write-expectations"),
      asked,
      sweeps,
      health: given.flag("health"),
      report: given.text("report"),
      isAboardKnown: saysWhoIsAboard(answers),
    });
    const kept = given.text("memory");
    const memory = kept === undefined ? null : await KeptMemory.open(kept, around.folder, terminal);
    let remembered = memory?.before;
    const clock = realClock();
    const progress = new Progress(recordings, () => clock.steady());
    const runs = allRuns({
      inputs: recordings.map(({ input }) => input),
      folder: setup.inputFolder,
      boat: setup.boat,
      rules: [...rules, ...hiddenFor(expected.map((file) => file?.expectations ?? null))],
      answers,
      tracing,
      memory: memory && memory.before,
    }, {
      threads: worthThreads(recordings) ? navigator.hardwareConcurrency : 1,
      stopped: interrupted,
      gaps: gapsOf(recordings),
      sizes: recordings.map(({ size }) => size),
      onProgress: (bytes) => terminal.status(progress.line(bytes)),
    });
    if (recordings.length > 0) terminal.status(progress.line(0));
    for await (const report of runs) {
      if (interrupted.aborted) break;
      await outcome.take(report);
      remembered = report.memory ?? remembered;
    }
    if (interrupted.aborted) {
      const files = ["report", "memory"].filter((name) => given.text(name) !== undefined);
      const unwritten = files.length === 0 ? "" : `; no ${files.join(" and no ")} was written`;
      terminal.error(`Interrupted: a run that was not over was not judged${unwritten}.`);
      return ExitCode.well;
    }
    await memory?.save(remembered ?? []);
    for (const one of synthetic) {
      const answering = answeringOf(answers, 0);
      const hidden = hiddenFor([one.synthetic.expectations]);
      const record = runCase(one.title, one.synthetic, {
        boat: setup.boat,
        rules: [...rules, ...hidden],
        answering,
        ...(tracing ? { traces: new Traces(setup.rules) } : {}),
      });
      outcome.takeCase(one, record);
    }
    outcome.leaveOut(leftOut);
    return await outcome.end();
  },
};

/** Options that say something of recordings only. */
const OF_RECORDINGS = ["memory", "write-expectations", "why", "try", "health", "report"] as const;

/** A thread takes half a second to begin: as long as some megabytes take to be followed. */
function worthThreads(recordings: readonly RecordingInput[]): boolean {
  return recordings.reduce((sum, { size }) => sum + size, 0) > 2_000_000;
}

/** @throws {CommandFailure} with the nearest tag */
function ruleOf(tag: string, rules: readonly Rule[]): Rule {
  const found = rules.find((rule) => rule.tag === tag);
  if (found !== undefined) return found;
  const nearest = nearestName(tag, rules.map((rule) => rule.tag));
  const meant = nearest === undefined ? "" : `; did you mean "${nearest}"?`;
  throw new CommandFailure(
    `--why: found "${tag}", which this set of rules does not know${meant || "."}`,
  );
}

/** @throws {CommandFailure} */
function sweepOf(text: string, rules: readonly Rule[], number: number): Sweep {
  const read = readSweep(text, rules, number);
  if (read.ok) return read.sweep;
  throw new CommandFailure(`--try: ${read.why}${read.why.endsWith("?") ? "" : "."}`);
}
