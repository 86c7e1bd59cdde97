import { basename, resolve } from "node:path";
import { parseInputText } from "../../bus/input-text.ts";
import type { RememberedDevice } from "../../nmea2000/device-memory.ts";
import { type Pass, PASSES } from "../../survey/pass-words.ts";
import type { Surroundings } from "../command-line/command.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { listen, type ListenOrder } from "./listen.ts";

const EXPECTED = "expected one live input, or three recordings: " +
  PASSES.map(({ step }) => step).join(", ");

/**
 * The three steps of a commissioning, fewer where the person interrupts. One input is listened to
 * three times, each time when the person says so; three inputs are recordings, one of each step.
 */
export async function surveyPasses(
  order: ListenOrder,
  around: Surroundings,
): Promise<{ readonly passes: readonly Pass[]; readonly cut: boolean }> {
  const { inputs, named } = order;
  const { interrupted, terminal } = around;
  if (inputs.length !== 1 && inputs.length !== PASSES.length) {
    throw new CommandFailure(
      `--passes: found ${inputs.length} inputs, ${EXPECTED}`,
    );
  }
  if (inputs.length === 1 && await isRecorded(order)) {
    throw new CommandFailure(
      `--passes: ${named[0]} is over already; ${EXPECTED}`,
    );
  }
  if (inputs[0] === "-") {
    throw new CommandFailure("--passes: standard input is where you answer; name another input");
  }
  const passes: Pass[] = [];
  let cut = false;
  // A device says who it is as its power comes on, which may have been a step before.
  let remembered: readonly RememberedDevice[] = [];
  for (const [i, { prompt, step }] of PASSES.entries()) {
    if (inputs.length === 1) {
      terminal.error(`Step ${i + 1} of ${PASSES.length}, ${step}. ${prompt}, then press Enter.`);
      await enterPressed(interrupted);
    }
    if (interrupted.aborted) break;
    const one = inputs.length === 1 ? { ...order, remembered } : {
      ...order,
      remembered,
      inputs: [inputs[i]],
      named: [named.length === inputs.length ? named[i] : basename(inputs[i])],
    };
    const listened = await listen(one, around);
    passes.push({ step, report: listened.report });
    cut ||= listened.cut;
    remembered = listened.devices;
  }
  return { passes, cut };
}

/** Whether the one input is a file, or a scenario, which plays at once. */
async function isRecorded({ inputFolder, inputs: [text] }: ListenOrder): Promise<boolean> {
  const input = parseInputText(text);
  if (input.kind === "simulator") return true;
  if (!("file" in input)) return false;
  const info = await Deno.stat(resolve(inputFolder, input.file)).catch(() => undefined);
  return info?.isFile === true;
}

/** Until a line ends, the input ends, or the person interrupts. */
async function enterPressed(interrupted: AbortSignal): Promise<void> {
  const stopped = new Promise<null>((resolve) => {
    if (interrupted.aborted) resolve(null);
    interrupted.addEventListener("abort", () => resolve(null), { once: true });
  });
  const bytes = new Uint8Array(1);
  while (true) {
    const count = await Promise.race([Deno.stdin.read(bytes), stopped]);
    if (count === null || bytes[0] === 10) return;
  }
}
