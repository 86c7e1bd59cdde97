import { join } from "node:path";

/** Where a kernel and an archive are kept from one run to the next; never inside the project. */
export async function cacheFolder(): Promise<string> {
  const base = Deno.env.get("XDG_CACHE_HOME") ?? "/var/tmp";
  const folder = join(base, "sternfast-virtual-machine");
  await Deno.mkdir(folder, { recursive: true });
  return folder;
}
