import { existsSync } from "node:fs";
import { basename, join } from "node:path";
import { runProgram } from "./shell.ts";

/** Modules in the order in which they are loaded. */
const MODULES = [
  "net/can/can.ko",
  "net/can/can-raw.ko",
  "drivers/net/can/dev/can-dev.ko",
  "drivers/net/can/vcan.ko",
  "drivers/net/can/slcan/slcan.ko",
  "drivers/net/can/sja1000/sja1000.ko",
  "drivers/net/can/sja1000/kvaser_pci.ko",
];

export interface Kernel {
  /** "6.1.0-56-amd64" */
  readonly release: string;
  readonly image: string;
  /** Whole places, in the order in which they are loaded. */
  readonly modules: readonly string[];
}

/** The distribution's own kernel, downloaded once and unpacked, never installed. */
export async function distributionKernel(cache: string): Promise<Kernel> {
  const ask = () => runProgram("apt-cache", ["depends", "linux-image-amd64"]);
  const described = await ask().catch(async () => {
    await runProgram("apt-get", ["update", "-qq"]);
    return await ask();
  });
  const name = /Depends: (linux-image-\S+)/.exec(described)?.[1];
  if (name === undefined) throw new Error(`linux-image-amd64 names no kernel:\n${described}`);
  const folder = join(cache, name);
  if (!existsSync(folder)) await unpack(name, folder);
  const release = basename(name).replace("linux-image-", "");
  return {
    release,
    image: join(folder, "boot", `vmlinuz-${release}`),
    modules: MODULES.map((module) => join(folder, "lib/modules", release, "kernel", module)),
  };
}

async function unpack(name: string, folder: string): Promise<void> {
  const work = await Deno.makeTempDir();
  const part = `${folder}.part-${Deno.pid}`;
  try {
    await runProgram("apt-get", ["download", "-q", name], { folder: work });
    for await (const { name: file } of Deno.readDir(work)) {
      await runProgram("dpkg", ["-x", join(work, file), part]);
    }
    await Deno.rename(part, folder);
  } finally {
    await Deno.remove(work, { recursive: true });
  }
}
