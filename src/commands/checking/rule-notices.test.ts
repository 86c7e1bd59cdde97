import { describe, expect, test } from "vitest";
import type { Heard } from "../../alarms/rules/never-sent.ts";
import { readBoatFile } from "../../boat/boat-file.ts";
import { sayProblem } from "../../ground/problem-words.ts";
import { ruleNotices } from "./rule-notices.ts";

describe("rules held against a boat file that says too little of a thing", () => {
  const RULES = { name: "rules.yaml", path: "/rules.yaml", text: "use: [engine-diesel]\n" };
  const notices = (boatFile: string, heard?: Heard) => {
    const { boat } = readBoatFile("boat.yaml", boatFile);
    if (boat === undefined) throw new Error("the boat file has a mistake");
    return ruleNotices(RULES, [boat], heard).map(sayProblem);
  };
  const PORT = "port: { instance: 0, fuel: diesel }";

  test("leave it unwatched, and one notice says so of them all", () => {
    expect(notices(`engines: { ${PORT}, starboard: { instance: 1 } }`)).toEqual([
      expect.stringMatching(
        /^rules\.yaml:1:1: "engine starboard" is not watched by "[a-z-]+" and \d+ other rules: the boat file does not say its "fuel"\.$/,
      ),
    ]);
  });

  test("leave unwatched what was heard and it does not name", () => {
    const heard = new Map([["engine/2/speed", true], ["speed/over-ground", true]]);
    expect(notices(`engines: { ${PORT} }`, heard).filter((text) => text.includes("boat file")))
      .toEqual([expect.stringContaining('"engine 2" is not watched by')]);
  });

  test("are not told where it says that the thing is of another kind, or of theirs", () => {
    expect(notices(`engines: { ${PORT}, starboard: { instance: 1, fuel: petrol } }`)).toEqual([]);
    expect(notices(`engines: { ${PORT}, starboard: { instance: 1, fuel: diesel } }`)).toEqual([]);
  });
});
