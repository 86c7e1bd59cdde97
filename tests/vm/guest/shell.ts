/** Runs a line of shell in the machine; fails with what it said unless it ends well and in time. */
export async function sh(line: string): Promise<string> {
  const { success, stdout, stderr } = await new Deno.Command("timeout", {
    args: ["120", "sh", "-c", line],
  }).output();
  const text = new TextDecoder();
  if (!success) throw new Error(`${line}:\n${text.decode(stdout)}${text.decode(stderr)}`);
  return text.decode(stdout);
}

/** Waits for something to become true, looked at every 50 ms, for at most three minutes: the machine is emulated. */
export async function until(what: string, holds: () => boolean | Promise<boolean>): Promise<void> {
  const end = performance.now() + 180_000;
  while (!await holds()) {
    if (performance.now() > end) throw new Error(`did not come about: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

export function same(found: unknown, expected: unknown, what: string): void {
  const [one, other] = [found, expected].map((value) => JSON.stringify(value));
  if (one !== other) throw new Error(`${what}:\nfound    ${shown(one)}\nexpected ${shown(other)}`);
}

/** Text of many lines, compared line by line. */
export function sameLines(found: string, expected: string): void {
  const [ours, theirs] = [found, expected].map((text) => text.split("\n"));
  const at = ours.findIndex((line, index) => line !== theirs[index]);
  if (at >= 0) same(ours[at], theirs[at] ?? "(no such line)", `line ${at + 1}`);
  same(ours.length, theirs.length, "lines");
}

function shown(text: string): string {
  return text.length > 2000 ? `${text.slice(0, 2000)}…` : text;
}
