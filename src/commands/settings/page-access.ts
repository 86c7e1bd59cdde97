import { Passphrases, SHORTEST_PASSPHRASE } from "../../outputs/page/access/passphrases.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import type { PageSettings } from "./page-settings.ts";
import { readSecret } from "./secrets.ts";
import type { Secret } from "./setting-values.ts";

/** What the page needs to ask who is there, and to speak TLS. */
export interface PageAccess {
  readonly passphrases?: Passphrases;
  readonly certificate?: { readonly cert: string; readonly key: string };
}

/**
 * Reads the passphrases, the certificate and its key.
 * @throws {CommandFailure} where one cannot be read, is too short, or lacks its other half
 */
export async function readPageAccess(page: PageSettings | undefined): Promise<PageAccess> {
  return { passphrases: await readPassphrases(page), certificate: await readCertificate(page) };
}

async function readPassphrases({ act, watch }: PageSettings = {}) {
  if (act === undefined) {
    if (watch === undefined) return undefined;
    throw new CommandFailure("Settings: page: watch is set, so act needs a passphrase too.");
  }
  const texts = {
    act: await passphrase("act", act),
    watch: watch && await passphrase("watch", watch),
  };
  if (texts.act === texts.watch) {
    throw new CommandFailure("Settings: page: act and watch need two different passphrases.");
  }
  return await Passphrases.of(texts);
}

async function passphrase(role: string, secret: Secret): Promise<string> {
  const text = await readSecret(secret);
  if (text.length >= SHORTEST_PASSPHRASE) return text;
  throw new CommandFailure(
    `Settings: the passphrase of page: ${role} has ${text.length} characters; it needs at least ` +
      `${SHORTEST_PASSPHRASE}. Four words are good and easy to type.`,
  );
}

async function readCertificate({ certificate, key }: PageSettings = {}) {
  if (certificate === undefined && key === undefined) return undefined;
  if (certificate === undefined || key === undefined) {
    throw new CommandFailure(
      "Settings: page: certificate and key belong together; one is missing.",
    );
  }
  return { cert: await readSecret(certificate), key: await readSecret(key) };
}
