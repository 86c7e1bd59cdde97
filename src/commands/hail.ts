import { resolve } from "node:path";
import { answerWords, hail as hailPeople } from "../outputs/phones/hail.ts";
import { boatWords } from "../outputs/phones/words/boat-words.ts";
import type { Command, Surroundings } from "./command-line/command.ts";
import { CommandFailure, ExitCode } from "./command-line/exit-codes.ts";
import { BOAT, JSON_LINES } from "./command-line/options.ts";
import { readSetupFiles } from "./settings/setup.ts";
import type { Settings } from "./settings/settings.ts";
import { realClock } from "./watching/real-clock.ts";
import { lookAtPushDevices, type PushDevices, pushedPeople } from "./watching/push-devices.ts";
import { openWays, type WaysParts } from "./watching/ways-opening.ts";

export const hail: Command = {
  name: "hail",
  usage: "sternfast hail",
  description:
    `Sends a test through every way to everybody in the settings, once, and prints what each
way answered. Nobody is told of an alarm, and quiet hours do not hold it back. Exit code 1
when any way did not take it.`,
  examples: ["sternfast hail", "sternfast hail --settings sternfast.yaml --json"],
  options: { ...BOAT, ...JSON_LINES },
  async run(given, around) {
    const { terminal, interrupted } = around;
    if (given.words.length > 0) {
      throw new CommandFailure(`hail takes no input: found "${given.words[0]}"`);
    }
    const { settings, boat } = await readSetupFiles(given, around);
    if (settings === undefined || settings.people.length === 0) {
      throw new CommandFailure("hail needs somebody to tell: people: in the settings");
    }
    const clock = realClock();
    const push = await devicesOf(settings, around);
    const parts: WaysParts = { clock, mail: settings.mail, push };
    const people = await Promise.all(
      settings.people.map(async (person) => ({
        name: person.name,
        ways: await openWays(person, parts),
      })),
    );
    const answers = await hailPeople({
      people,
      boat: boatWords(boat.name),
      timeZone: boat.timeZone,
      wall: clock.wall(),
      cut: interrupted,
    });
    for (const answer of answers) {
      terminal.out(given.flag("json") ? JSON.stringify(answer) : answerWords(answer));
    }
    const wrong = answers.filter(({ outcome }) => outcome !== "accepted").length;
    if (wrong === 0) return ExitCode.well;
    terminal.error(`${wrong} of ${answers.length} ways did not take the test.`);
    return ExitCode.doesNotHold;
  },
};

/** Undefined where they cannot be known from here: the way then says so. */
async function devicesOf(
  { state, people }: Settings,
  { folder, terminal }: Surroundings,
): Promise<PushDevices | undefined> {
  if (state === undefined || pushedPeople(people).length === 0) return undefined;
  return await lookAtPushDevices(resolve(folder, state), (sentence) => terminal.error(sentence));
}
