import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe } from "vitest";
import { isInstalled } from "./installed-tool.ts";

/** Open recordings of real engine starts, beside the project; not part of it. */
export const TRACTOR_DATA = fileURLToPath(new URL("../../../shared/data/tractor", import.meta.url));

/** What an outside check compares with, and where it must be: a program to run, or a folder. */
const WANTED = {
  mosquitto: ["mosquitto", "mosquitto_sub"],
  tshark: ["tshark"],
  units: ["units"],
  geodesics: ["GeodSolve"],
  chromium: ["chromium"],
  exim: ["exim4"],
  systemd: ["systemd-analyze"],
  faketime: ["faketime", "mosquitto", "mosquitto_sub"],
  "can-utils": ["log2asc", "asc2log"],
  "qemu": ["qemu-system-x86_64", "busybox", "cpio", "dpkg", "apt-get", "ip", "canplayer", "slcand"],
  "tractor-data": [TRACTOR_DATA],
} as const;

export type Need = keyof typeof WANTED;

/**
 * A `describe` for checks against something that may be missing on this machine. What is missing is
 * said aloud and its checks are skipped, except where `CI=true`: there the programs are installed
 * before, and a skip is a failure. The tractor's data cannot be installed from anywhere.
 * @throws {Error} when a program is missing and CI=true.
 */
export function needs(need: Need): typeof describe | typeof describe.skip {
  const missing = WANTED[need].filter((name) => !isHere(name));
  if (missing.length === 0) return describe;
  const sentence = `${missing.join(" and ")} not found: the checks against ${need}`;
  if (Deno.env.get("CI") === "true" && need !== "tractor-data") {
    throw new Error(`${sentence} cannot run`);
  }
  Deno.stderr.writeSync(new TextEncoder().encode(`${sentence} are skipped\n`));
  return describe.skip;
}

/** A name is looked for in PATH; a folder or file where it is. */
function isHere(name: string): boolean {
  return name.includes("/") ? existsSync(name) : isInstalled(name);
}
