import { sh } from "./shell.ts";

/** Switches an emulated card on, at the bit rate of NMEA 2000. */
export async function switchOn(name: string, more = ""): Promise<void> {
  // By its place: the shell has an `ip` of its own, which knows nothing of bit rates.
  await sh(`/bin/ip link set ${name} txqueuelen 1000 up type can bitrate 250000 ${more}`);
}

/** As deploy/README.md says it. */
export const ONLY_LISTENS = "listen-only on";
