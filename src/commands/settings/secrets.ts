import { CommandFailure } from "../command-line/exit-codes.ts";
import type { Secret } from "./setting-values.ts";

/**
 * The text of a secret, from its file (without the end of its last line) or from the environment.
 * @throws {CommandFailure} with the name of the file or variable, never with what is in it
 */
export async function readSecret(secret: Secret): Promise<string> {
  if ("env" in secret) {
    const text = Deno.env.get(secret.env);
    if (text === undefined || text === "") {
      throw new CommandFailure(
        `Settings: a secret should be in the variable ${secret.env}, which is not set.`,
      );
    }
    return text;
  }
  try {
    return (await Deno.readTextFile(secret.file)).replace(/\r?\n$/, "");
  } catch (error) {
    throw new CommandFailure(
      `Settings: a secret should be in ${secret.file}, which cannot be read: ${reason(error)}.`,
    );
  }
}

function reason(error: unknown): string {
  if (error instanceof Deno.errors.NotFound) return "there is no such file";
  if (error instanceof Deno.errors.PermissionDenied || error instanceof Deno.errors.NotCapable) {
    return "it is not allowed";
  }
  return error instanceof Error ? error.message : String(error);
}
