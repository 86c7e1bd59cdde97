import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { COMMANDS as LISTED } from "../../src/commands/commands.ts";
import { commandHelp, generalHelp } from "../../src/commands/command-line/help.ts";
import { expectGolden } from "../support/golden.ts";
import { sternfast } from "../support/sternfast.ts";

const COMMANDS = await Promise.all([...LISTED.values()].map((one) => one.load()));
const FOLDER = fileURLToPath(new URL("./command-line", import.meta.url));

describe("the command line", () => {
  test("has a page that lists every command and input", () => {
    expectGolden(`${FOLDER}/sternfast.txt`, `${generalHelp(LISTED)}\n`);
  });

  test.each(COMMANDS)("has a page for $name", (command) => {
    expectGolden(`${FOLDER}/${command.name}.txt`, `${commandHelp(command)}\n`);
  });

  test("calls each command by its name", () => {
    expect(COMMANDS.map(({ name }) => name)).toEqual([...LISTED.keys()]);
  });

  test("says which version it is", async () => {
    const { code, out } = await sternfast(["--version"]);
    expect(code).toBe(0);
    expect(out).toMatch(/^sternfast \d+\.\d+\.\d+\n$/);
  });

  test("has pages that fit on a terminal of 100 columns", () => {
    const pages = [generalHelp(LISTED), ...COMMANDS.map(commandHelp)];
    for (const line of pages.join("\n").split("\n")) expect(line.length, line).toBeLessThan(101);
  });
});
