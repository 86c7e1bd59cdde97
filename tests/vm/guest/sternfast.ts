import { program } from "./program.ts";
import { until } from "./shell.ts";

/** The program in the machine, run by a user without rights; `allow` are Deno's permissions. */
export function asNobody(typed: readonly string[], allow: readonly string[] = ["-A"]) {
  const process = new Deno.Command("deno", {
    args: ["run", "--no-lock", "--no-config", ...allow, program("sternfast/main.js"), ...typed],
    uid: 65534,
    gid: 65534,
    cwd: "/tmp",
    env: { HOME: "/tmp", DENO_DIR: program("deno"), INIT_CWD: "/tmp" },
    stdout: "piped",
    stderr: "piped",
  }).spawn();
  let said = "";
  const listen = async (stream: ReadableStream<Uint8Array>): Promise<void> => {
    const decoder = new TextDecoder();
    for await (const bytes of stream) said += decoder.decode(bytes, { stream: true });
  };
  const heard = Promise.all([listen(process.stdout), listen(process.stderr)]);
  return {
    until: (pattern: RegExp) =>
      until(String(pattern), () => pattern.test(said)).catch((error) => {
        throw new Error(`${error.message}; it said: ${said}`);
      }),
    /** Its exit code, and what it said. */
    async finished(): Promise<{ code: number; said: string }> {
      const { code } = await process.status;
      await heard;
      return { code, said };
    },
    stop: () => process.kill("SIGSTOP"),
    goOn: () => process.kill("SIGCONT"),
    async interrupt(): Promise<number> {
      process.kill("SIGINT");
      return (await this.finished()).code;
    },
  };
}
