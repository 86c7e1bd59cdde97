import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { allCommands, COMMAND_NAMES } from "../../src/commands/commands.ts";
import { commandHelp, generalHelp } from "../../src/commands/command-line/help.ts";
import { expectGolden } from "../support/golden.ts";

const COMMANDS = await allCommands();
const FOLDER = fileURLToPath(new URL("./command-line", import.meta.url));

describe("the command line", () => {
  test("has a page that lists every command and input", () => {
    expectGolden(`${FOLDER}/sternfast.txt`, `${generalHelp(COMMANDS)}\n`);
  });

  test.each(COMMANDS)("has a page for $name", (command) => {
    expectGolden(`${FOLDER}/${command.name}.txt`, `${commandHelp(command)}\n`);
  });

  test("calls each command by its name", () => {
    expect(COMMANDS.map(({ name }) => name)).toEqual(COMMAND_NAMES);
  });

  test("has pages that fit on a terminal of 100 columns", () => {
    const pages = [generalHelp(COMMANDS), ...COMMANDS.map(commandHelp)];
    for (const line of pages.join("\n").split("\n")) expect(line.length, line).toBeLessThan(101);
  });
});
