import { beforeAll, expect, test } from "vitest";
import { needs } from "../support/needs.ts";
import { CHECKS } from "./checks/all.ts";
import { boot } from "./machine/boot.ts";
import { readVerdict, type Verdict } from "./verdict.ts";

/** The machine is emulated, and its kernel may have to be fetched. */
const PATIENCE_MS = 600_000;

/**
 * The live adapters against a real kernel: Debian's own, in a virtual machine, with can-utils on the
 * other side. The machine boots once; each of its checks is a test here.
 */
needs("qemu")("in a virtual machine with a CAN bus", () => {
  const verdicts = new Map<string, Verdict>();
  const console: string[] = [];

  beforeAll(async () => {
    await boot((line) => {
      console.push(line);
      const verdict = readVerdict(line);
      if (verdict !== undefined) verdicts.set(verdict.name, verdict);
      else if (line.includes("NOTE ")) {
        Deno.stderr.writeSync(new TextEncoder().encode(`${line.trim()}\n`));
      }
    });
  }, PATIENCE_MS);

  test.each(CHECKS.map(({ name }) => name))("%s", (name) => {
    const verdict = verdicts.get(name);
    if (verdict === undefined) {
      throw new Error(`the machine did not come to this check:\n${console.slice(-40).join("\n")}`);
    }
    expect(verdict.fault).toBe("");
  });
});
