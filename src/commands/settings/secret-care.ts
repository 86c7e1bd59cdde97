import type { Settings } from "./settings.ts";

/** Files that anybody may read. */
const OPEN_TO_ALL = ["authority", "certificate"];
/** Permissions of group and others, in a mode of POSIX. */
const OTHERS = 0o077;

/**
 * A sentence for each secret of the settings that others on this computer can read. A file that is
 * not there is told of by whoever needs it.
 */
export function secretCautions(settings: Settings): string[] {
  const files = [
    ...new Set(secretFiles([settings.mqtt, settings.people, settings.mail, settings.page])),
  ];
  return files.filter(isOpenToOthers).map((file) =>
    `Settings: the secret in ${file} can be read by others on this computer; chmod 600 ends that.`
  );
}

/** Whole paths, wherever `{ file: PATH }` stands for a secret. */
function secretFiles(part: unknown): string[] {
  if (typeof part !== "object" || part === null) return [];
  return Object.entries(part).flatMap(([key, value]) =>
    key === "file" && typeof value === "string"
      ? [value]
      : OPEN_TO_ALL.includes(key)
      ? []
      : secretFiles(value)
  );
}

function isOpenToOthers(file: string): boolean {
  try {
    // No mode: a system with other kinds of permission.
    return ((Deno.statSync(file).mode ?? 0) & OTHERS) !== 0;
  } catch {
    return false;
  }
}
