import { existsSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import type { Kernel } from "./kernel.ts";
import { runProgram } from "./shell.ts";

/** To be raised when the base archive is made differently. */
const BASE_VERSION = 1;

const PROGRAMS = ["candump", "canplayer", "cangen", "cansend", "slcand", "canbusload", "ip"];
const FOLDERS = ["proc", "sys", "dev", "tmp", "run", "etc", "root", "modules"];
/** The system's users, so that a program can be run as nobody. */
const ACCOUNTS = {
  "etc/passwd": "root:x:0:0::/root:/bin/sh\nnobody:x:65534:65534::/tmp:/bin/sh\n",
};

/**
 * A file system in memory with a shell, the CAN tools, Deno and the kernel's modules. It is made
 * once for a kernel and a Deno, since it is large and does not depend on the project.
 */
export async function baseArchive(cache: string, kernel: Kernel): Promise<string> {
  const name = `base-${BASE_VERSION}-${kernel.release}-deno-${Deno.version.deno}.cpio`;
  const archive = join(cache, name);
  if (existsSync(archive)) return archive;
  const root = await Deno.makeTempDir();
  try {
    for (const folder of [...FOLDERS, "bin"]) await Deno.mkdir(join(root, folder));
    await Deno.copyFile(await placeOf("busybox"), join(root, "bin/busybox"));
    for (const applet of (await runProgram("busybox", ["--list"])).trim().split("\n")) {
      if (applet !== "busybox" && applet !== "ip") {
        await Deno.symlink("busybox", join(root, "bin", applet));
      }
    }
    const programs = await Promise.all(PROGRAMS.map(placeOf));
    for (const program of [...programs, Deno.execPath()]) await copyProgram(program, root);
    for (const module of kernel.modules) {
      await Deno.copyFile(module, join(root, "modules", basename(module)));
    }
    for (const [file, text] of Object.entries(ACCOUNTS)) {
      await Deno.writeTextFile(join(root, file), text);
    }
    const part = `${archive}.part-${Deno.pid}`;
    await archiveOf(root, part);
    await Deno.rename(part, archive);
    return archive;
  } finally {
    await Deno.remove(root, { recursive: true });
  }
}

/** Packs a folder as the kernel wants its first file system. */
export async function archiveOf(folder: string, archive: string): Promise<void> {
  const pack = `find . -print0 | cpio --null --create --format=newc --quiet > "$1"`;
  await runProgram("sh", ["-c", pack, "sh", archive], { folder });
}

async function placeOf(program: string): Promise<string> {
  return (await runProgram("sh", ["-c", `command -v ${program}`])).trim();
}

/** A program goes to /bin, the libraries that it is linked with to where they are here. */
async function copyProgram(program: string, root: string): Promise<void> {
  await Deno.copyFile(await Deno.realPath(program), join(root, "bin", basename(program)));
  const libraries = (await runProgram("ldd", [program])).matchAll(/(\/\S+) \(0x/g);
  for (const [, library] of libraries) {
    const copy = join(root, library);
    await Deno.mkdir(dirname(copy), { recursive: true });
    await Deno.copyFile(await Deno.realPath(library), copy);
  }
}
