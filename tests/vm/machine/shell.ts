/** Runs a program to its end; fails with what it said if it did not end well. */
export async function runProgram(
  program: string,
  given: readonly string[],
  options: { readonly folder?: string; readonly input?: string } = {},
): Promise<string> {
  const child = new Deno.Command(program, {
    args: [...given],
    cwd: options.folder,
    stdin: options.input === undefined ? "null" : "piped",
    stdout: "piped",
    stderr: "piped",
  }).spawn();
  const output = child.output();
  if (options.input !== undefined) {
    const writer = child.stdin.getWriter();
    await writer.write(new TextEncoder().encode(options.input));
    await writer.close();
  }
  const { success, stdout, stderr } = await output;
  const text = new TextDecoder();
  if (!success) {
    throw new Error(`${program} ${given.join(" ")}:\n${text.decode(stdout)}${text.decode(stderr)}`);
  }
  return text.decode(stdout);
}
