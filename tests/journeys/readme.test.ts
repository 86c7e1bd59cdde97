import { expect, test } from "vitest";
import { COMMANDS } from "../../src/commands/commands.ts";
import { ownFolder } from "../support/own-folder.ts";
import { ROOT, sternfast } from "../support/sternfast.ts";

const README = await Deno.readTextFile(`${ROOT}/README.md`);

/** The boat file, the rule and the settings that the README shows. */
function shown(): Record<string, string> {
  const [boat, rules, settings] = [...README.matchAll(/```yaml\n(.*?)```/gs)].map(([, text]) =>
    text
  );
  return { "boat.yaml": boat, "rules.yaml": rules, "people.yaml": settings };
}

test("the boat file, the rule and the settings of the README are without a mistake", async () => {
  const folder = ownFolder(shown());
  const typed = ["check", "boat.yaml", "rules.yaml", "people.yaml"];
  const { code, out } = await sternfast(typed, { folder });
  expect(out).toBe(
    "boat.yaml: a boat file without a mistake.\nrules.yaml: a rule file without a mistake.\n" +
      "people.yaml: settings without a mistake.\n",
  );
  expect(code).toBe(0);
});

test("the README's boat and rule raise the alarm of the example's recording", async () => {
  const folder = ownFolder(shown());
  const recording = `${ROOT}/examples/hazel-comfort/recordings/oil-pressure-falls.log.gz`;
  const typed = ["run", recording, "--boat", "boat.yaml", "--rules", "rules.yaml"];
  const { out } = await sternfast(typed, { folder });
  expect(out).toMatch(/ALARM: Low oil pressure under load, port\. Port oil pressure \d+ psi/);
});

test("every command that the README types is one", () => {
  const typed = [...README.matchAll(/(?:task sternfast|sternfast:) ([a-z]+)/g)].map(([, name]) =>
    name
  );
  expect(typed.length).toBeGreaterThan(3);
  for (const name of typed) expect([...COMMANDS.keys()]).toContain(name);
});

test("as a task, places are meant from the folder in which the person is", async () => {
  // These tests may run in a task themselves, which has said where a person is already.
  const { INIT_CWD: _, ...env } = Deno.env.toObject();
  const { stdout, code } = await new Deno.Command(Deno.execPath(), {
    args: ["task", "-q", "sternfast", "check", "sternfast.yaml", "boat.yaml", "rules"],
    cwd: `${ROOT}/examples/hazel-comfort`,
    clearEnv: true,
    env: { ...env, NO_COLOR: "1" },
  }).output();
  expect(new TextDecoder().decode(stdout)).toMatch(
    /^sternfast\.yaml: settings without a mistake\.\n/,
  );
  expect(code).toBe(0);
});
