import { isAbsolute, join } from "node:path";
import { z } from "zod";
import { parseDuration } from "../../units/duration.ts";

z.config({ jitless: true });

// Values that several parts of the settings are made of. An `error` text ends "expected …".

/** Where a secret lies; files by whole path. */
export type Secret = { readonly file: string } | { readonly env: string };

/** A place for a secret, which never stands in the settings themselves. */
export type SecretSchema = z.ZodType<Secret>;

/**
 * Files that the settings name.
 * @param folder whole path of the folder of the settings: files are resolved against it
 */
export function placesIn(folder: string) {
  const file = z.string({ error: "a file or folder" }).min(1, { error: "a file or folder" })
    .transform((path) => isAbsolute(path) ? path : join(folder, path));
  const fileOnly = z.strictObject({ "file": file }, { error: "{ file: PATH }" });
  const secret = z.union([
    z.strictObject({ "file": file }),
    z.strictObject({ "env": text("the name of a variable") }),
  ], { error: "{ file: PATH } or { env: NAME }, so that no secret stands in this file" });
  return { file, fileOnly, secret };
}

export function text(error: string) {
  return z.string({ error }).min(1, { error });
}

/** One or several. */
export function list<T extends z.ZodType>(item: T, error: string) {
  return z.union([item, z.array(item)], { error })
    .transform((written): z.output<T>[] => Array.isArray(written) ? written : [written]);
}

/** A length of time, in microseconds. */
export const duration = z.string({ error: "a time, such as 5 min" })
  .transform((written, context) => {
    const read = parseDuration(written);
    if (read.ok) return read.value;
    context.addIssue({
      code: "custom",
      message: read.expected,
      params: { nearest: read.nearest },
    });
    return z.NEVER;
  });

/** An address of one of the protocols, without a user or password in it. */
export function address(protocols: readonly string[], error: string) {
  return z.string({ error }).refine((written) => {
    if (!URL.canParse(written)) return false;
    const { protocol, hostname, username, password } = new URL(written);
    return protocols.includes(protocol) && hostname !== "" && username === "" && password === "";
  }, { error });
}

/** An address for mail, without a name before it. */
export function mailAddress(error: string) {
  return z.string({ error }).max(254, { error }).regex(/^[^\s@<>()",:;\\]+@[^\s@<>()",:;\\]+$/, {
    error,
  });
}
