/** Runs every check inside the machine, one after another, and says on the console what became of it. */
import { CHECKS } from "../checks/all.ts";
import { verdictLine } from "../verdict.ts";
import { sh } from "./shell.ts";

const write = (line: string): number =>
  Deno.stdout.writeSync(new TextEncoder().encode(`${line}\n`));
const only = new RegExp(Deno.args[0] ?? "");

for (const check of CHECKS.filter(({ name }) => only.test(name))) {
  const begun = performance.now();
  let fault = "";
  // What a check that failed has left behind is no fault of the next one.
  await sh("ip link del vcan0 2>/dev/null; ip link del vcan1 2>/dev/null; true");
  try {
    await check.run((note) => write(`NOTE ${check.name}: ${note}`));
  } catch (error) {
    fault = error instanceof Error ? error.stack ?? error.message : String(error);
  }
  const seconds = Math.round((performance.now() - begun) / 100) / 10;
  write(verdictLine({ name: check.name, fault, seconds }));
}
Deno.exit(0);
