import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";

const PROGRAM = fileURLToPath(new URL("../support/print-frames.ts", import.meta.url));
const LINES = [1, 2, 3].map((second) => `(000000000${second}.000000) can0 18EEFF03#0102\n`);

/** Frames on standard input, printed by a process of its own until `most` have come. */
function printing(most: number) {
  const args = ["run", "--allow-read", PROGRAM, "-", String(most)];
  const command = new Deno.Command(Deno.execPath(), { args, stdin: "piped", stdout: "piped" });
  const child = command.spawn();
  const input = child.stdin.getWriter();
  const output = child.stdout.pipeThrough(new TextDecoderStream()).getReader();
  let printed = "";
  return {
    status: child.status,
    write: (text: string | Uint8Array) =>
      input.write(typeof text === "string" ? new TextEncoder().encode(text) : text),
    close: () => input.close(),
    /** All that was printed, once it is as long as this or the process has ended. */
    async printed(length: number): Promise<string> {
      while (printed.length < length) {
        const next = await output.read();
        if (next.done) break;
        printed += next.value;
      }
      return printed;
    },
  };
}

describe("candump lines on standard input", () => {
  test("are frames as soon as they come, and end with it", async () => {
    const { write, close, printed, status } = printing(Infinity);
    await write(LINES[0]);
    expect(await printed(LINES[0].length)).toBe(LINES[0]);
    await write(LINES[1] + LINES[2]);
    await close();
    expect(await printed(Infinity)).toBe(LINES.join(""));
    expect((await status).code).toBe(0);
  });

  test("may be packed with gzip", async () => {
    const { write, close, printed, status } = printing(Infinity);
    await write(gzipSync(LINES.join("")));
    await close();
    expect(await printed(Infinity)).toBe(LINES.join(""));
    expect((await status).code).toBe(0);
  });

  test("need not end for the source to be stopped", async () => {
    const { write, close, printed, status } = printing(2);
    await write(LINES[0] + LINES[1]);
    expect(await printed(Infinity)).toBe(LINES[0] + LINES[1]);
    expect((await status).code).toBe(0);
    await close().catch(() => {});
  });
});
