import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { archiveOf, baseArchive } from "./archive.ts";
import { cacheFolder } from "./cache-folder.ts";
import { distributionKernel } from "./kernel.ts";
import { fullBusLines } from "../../support/full-bus-lines.ts";
import { loopSeconds } from "../../support/loop-seconds.ts";
import { runProgram } from "./shell.ts";

/** Ten seconds. */
const FULL_BUS_FRAMES = 18_000;

const GUEST = fileURLToPath(new URL("../guest", import.meta.url));
const PROGRAM = fileURLToPath(new URL("../../../src/commands/main.ts", import.meta.url));
const LISTENER = fileURLToPath(new URL("../../support/listen-and-decode.ts", import.meta.url));

/**
 * Boots the machine with the guest's programs and hands on each line of its console until it ends.
 * Two emulated cards on one bus stand for real hardware.
 * @param only a pattern without blanks: run the checks whose names it matches
 */
export async function boot(onLine: (line: string) => void, only = ""): Promise<void> {
  const cache = await cacheFolder();
  const kernel = await distributionKernel(cache);
  const base = await baseArchive(cache, kernel);
  const work = await Deno.makeTempDir();
  try {
    const root = join(work, "root");
    await Deno.mkdir(root);
    await Promise.all([
      bundle(join(GUEST, "main.ts"), join(root, "checks.js")),
      bundle(PROGRAM, join(root, "sternfast.js"), SHORT),
      bundle(LISTENER, join(root, "listen.js"), SHORT),
      Deno.copyFile(join(GUEST, "init.sh"), join(root, "init")),
      Deno.writeTextFile(join(root, "full-bus.log"), fullBusLines(FULL_BUS_FRAMES)),
    ]);
    await Deno.chmod(join(root, "init"), 0o755);
    const own = join(work, "own.cpio");
    await archiveOf(root, own);
    const whole = join(work, "whole.cpio");
    await runProgram("sh", ["-c", 'cat "$1" "$2" > "$3"', "sh", base, own, whole]);
    await start(kernel.image, whole, only, onLine);
  } finally {
    await Deno.remove(work, { recursive: true });
  }
}

/** An emulated processor reads a long program for seconds, each time that it is started. */
const SHORT = ["--minify"];

async function bundle(
  entry: string,
  output: string,
  options: readonly string[] = [],
): Promise<void> {
  const typed = ["bundle", "--quiet", "--platform", "deno", ...options, "-o", output, entry];
  await runProgram(Deno.execPath(), typed);
}

async function start(
  kernel: string,
  archive: string,
  only: string,
  onLine: (line: string) => void,
): Promise<void> {
  const card = (name: string) => ["-device", `kvaser_pci,canbus=bus,id=${name}`];
  const machine = new Deno.Command("qemu-system-x86_64", {
    args: [
      ...["-machine", "pc", "-accel", "tcg,thread=multi", "-cpu", "max"],
      ...["-smp", "2", "-m", "1024", "-display", "none", "-no-reboot", "-nodefaults"],
      ...["-serial", "stdio"],
      ...["-object", "can-bus,id=bus", ...card("first"), ...card("second")],
      ...["-kernel", kernel, "-initrd", archive],
      ...[
        "-append",
        `console=ttyS0 quiet panic=-1 no_timer_check only=${only} native=${loopSeconds()}`,
      ],
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
