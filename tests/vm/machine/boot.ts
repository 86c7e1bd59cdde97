import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { archiveOf, baseArchive } from "./archive.ts";
import { cacheFolder } from "./cache-folder.ts";
import { distributionKernel } from "./kernel.ts";
import { fullBusLines } from "../../support/full-bus-lines.ts";
import { makePrograms } from "./programs.ts";
import { runProgram } from "./shell.ts";

/** Ten seconds. */
const FULL_BUS_FRAMES = 18_000;

const INIT = fileURLToPath(new URL("../guest/init.sh", import.meta.url));

/** Without wide vectors, which take longer to emulate than they save. */
const PROCESSOR = "Nehalem";

/**
 * Boots the machine with the guest's programs and hands on each line of its console until it ends.
 * Two emulated cards on one bus stand for real hardware.
 * @param only a pattern without blanks: run the checks whose names it matches
 */
export async function boot(onLine: (line: string) => void, only = ""): Promise<void> {
  const cache = await cacheFolder();
  const kernel = await distributionKernel(cache);
  const base = await baseArchive(cache, kernel);
  // Not where the machine mounts a folder of its own.
  const work = await Deno.makeTempDir({ dir: cache });
  try {
    const programs = join(work, "programs");
    await makePrograms(programs);
    const root = join(work, "root");
    await Deno.mkdir(join(root, work), { recursive: true });
    await Promise.all([
      Deno.rename(programs, join(root, programs)),
      Deno.copyFile(INIT, join(root, "init")),
      Deno.writeTextFile(join(root, "full-bus.log"), fullBusLines(FULL_BUS_FRAMES)),
    ]);
    await Deno.chmod(join(root, "init"), 0o755);
    const own = join(work, "own.cpio");
    await archiveOf(root, own);
    const whole = join(work, "whole.cpio");
    await runProgram("sh", ["-c", 'cat "$1" "$2" > "$3"', "sh", base, own, whole]);
    await start(kernel.image, whole, { only, programs }, onLine);
  } finally {
    await Deno.remove(work, { recursive: true });
  }
}

async function start(
  kernel: string,
  archive: string,
  told: Readonly<Record<string, string>>,
  onLine: (line: string) => void,
): Promise<void> {
  // What the kernel does not know, it hands to the first process as environment.
  const variables = Object.entries(told)
    .map(([name, value]) => `${name}=${value}`).join(" ");
  const card = (name: string) => ["-device", `kvaser_pci,canbus=bus,id=${name}`];
  const machine = new Deno.Command("qemu-system-x86_64", {
    args: [
      ...["-machine", "pc", "-accel", "tcg,thread=multi", "-cpu", PROCESSOR],
      ...["-smp", "2", "-m", "1024", "-display", "none", "-no-reboot", "-nodefaults"],
      ...["-serial", "stdio"],
      ...["-object", "can-bus,id=bus", ...card("first"), ...card("second")],
      ...["-kernel", kernel, "-initrd", archive],
      ...["-append", `console=ttyS0 quiet panic=-1 no_timer_check ${variables}`],
    ],
    stdin: "null",
    stdout: "piped",
    stderr: "inherit",
  }).spawn();
  let rest = "";
  for await (const text of machine.stdout.pipeThrough(new TextDecoderStream())) {
    const lines = (rest + text).split(/\r?\n/);
    rest = lines.pop() ?? "";
    lines.forEach(onLine);
  }
  await machine.status;
}
