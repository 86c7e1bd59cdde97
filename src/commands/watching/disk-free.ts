import { statfs } from "node:fs/promises";

/**
 * How much of the disk with a folder is free, in percent of what this program may use of it (root's
 * reserve is no one's): what `df` leaves of its `Use%`.
 * @returns NaN where it cannot be asked
 */
export async function diskFree(folder: string): Promise<number> {
  try {
    const { blocks, bfree, bavail } = await statfs(folder);
    const usable = blocks - bfree + bavail;
    return usable > 0 ? Math.round(1000 * bavail / usable) / 10 : NaN;
  } catch {
    return NaN;
  }
}
