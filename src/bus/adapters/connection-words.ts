/** By the code that Deno gives to errors of the operating system. */
const WORDS: ReadonlyMap<unknown, string> = new Map([
  ["ECONNREFUSED", "nothing listens at that port"],
  ["ETIMEDOUT", "nobody answers there"],
  ["EHOSTUNREACH", "nobody answers there"],
  ["ENETUNREACH", "this computer has no network that leads there"],
  ["ECONNRESET", "the other side broke the connection off"],
  ["EPIPE", "the other side broke the connection off"],
]);
/** The resolver's errors have no code. */
const NO_SUCH_NAME = /^failed to lookup address/;

/** A clause that says why a connection could not be had, or ended. */
export function sayConnectionTrouble(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  if (NO_SUCH_NAME.test(error.message)) return "no computer of that name is known";
  const code = "code" in error ? error.code : undefined;
  return WORDS.get(code) ?? error.message;
}
