import { fileURLToPath } from "node:url";

/** The project's root, without a slash at its end. */
export const ROOT = fileURLToPath(new URL("../..", import.meta.url)).replace(/\/$/, "");

const MAIN = `${ROOT}/src/commands/main.ts`;

/** Words for Deno as `deno task sternfast` has them, read from there, so that a test has no more. */
export async function taskArguments(more: readonly string[] = []): Promise<string[]> {
  const config: { tasks: { sternfast: string } } = JSON.parse(
    await Deno.readTextFile(`${ROOT}/deno.json`),
  );
  const words = config.tasks.sternfast.split(" ");
  return [...words.slice(1, -1), ...more, "--config", `${ROOT}/deno.json`, MAIN];
}

export interface Finished {
  readonly code: number;
  readonly out: string;
  readonly error: string;
}

export interface Running {
  readonly process: Deno.ChildProcess;
  /** Resolves with the text so far once what the program said matches; fails when it ends first. */
  until(pattern: RegExp): Promise<string>;
  /** Gives text to its standard input. */
  type(text: string): Promise<void>;
  interrupt(signal?: Deno.Signal): void;
  finished(): Promise<Finished>;
}

/** The words of a shell's line that starts the program. */
export async function shellWords(typed: readonly string[]): Promise<string> {
  const words = [Deno.execPath(), ...await taskArguments(), ...typed];
  return words.map((word) => `'${word.replaceAll("'", `'\\''`)}'`).join(" ");
}

/** Starts the program as a person would, in a folder of their own. */
export async function start(
  typed: readonly string[],
  options: {
    folder?: string;
    input?: "piped" | "null";
    env?: Record<string, string>;
    /** More words for Deno than `deno task sternfast` has; few tests need any. */
    permissions?: readonly string[];
  } = {},
): Promise<Running> {
  const process = new Deno.Command(Deno.execPath(), {
    args: [...await taskArguments(options.permissions), ...typed],
    cwd: options.folder ?? ROOT,
    env: { NO_COLOR: "1", INIT_CWD: options.folder ?? ROOT, ...options.env },
    stdin: options.input ?? "null",
    stdout: "piped",
    stderr: "piped",
  }).spawn();
  const said = { out: "", error: "" };
  let wake = (): void => {};
  let change = new Promise<void>((resolve) => wake = resolve);
  const listen = async (stream: ReadableStream<Uint8Array>, name: "out" | "error") => {
    const decoder = new TextDecoder();
    for await (const bytes of stream) {
      said[name] += decoder.decode(bytes, { stream: true });
      wake();
      change = new Promise((resolve) => wake = resolve);
    }
  };
  const heard = Promise.all([listen(process.stdout, "out"), listen(process.stderr, "error")]);
  let ended = false;
  const end = heard.then(() => {
    ended = true;
    wake();
  });
  return {
    process,
    async until(pattern) {
      while (!pattern.test(said.out + said.error)) {
        if (ended) throw new Error(`ended before it said ${pattern}:\n${said.out}\n${said.error}`);
        await change;
      }
      return said.out + said.error;
    },
    async type(text) {
      const writer = process.stdin.getWriter();
      await writer.write(new TextEncoder().encode(text));
      writer.releaseLock();
    },
    interrupt(signal = "SIGINT") {
      try {
        process.kill(signal);
      } catch (error) {
        if (!(error instanceof TypeError)) throw error;
        // It has ended by itself.
      }
    },
    async finished() {
      const { code } = await process.status;
      await end;
      return { code, ...said };
    },
  };
}

/** Runs the program to its end. */
export async function sternfast(
  typed: readonly string[],
  options: { folder?: string; input?: string | Uint8Array; env?: Record<string, string> } = {},
): Promise<Finished> {
  const running = await start(typed, {
    folder: options.folder,
    env: options.env,
    input: options.input === undefined ? "null" : "piped",
  });
  if (options.input !== undefined) {
    const writer = running.process.stdin.getWriter();
    const bytes = typeof options.input === "string"
      ? new TextEncoder().encode(options.input)
      : options.input;
    await writer.write(bytes).then(() => writer.close()).catch(() => {});
  }
  return await running.finished();
}
