import { describe, expect, test } from "vitest";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { readSecret } from "./secrets.ts";

describe("a secret", () => {
  test("is what its file holds, without the end of the line", async () => {
    const file = await Deno.makeTempFile();
    await Deno.writeTextFile(file, "correct horse\n");
    expect(await readSecret({ file })).toBe("correct horse");
    await Deno.remove(file);
  });

  test("is what its variable holds", async () => {
    Deno.env.set("STERNFAST_TEST_SECRET", "correct horse");
    expect(await readSecret({ env: "STERNFAST_TEST_SECRET" })).toBe("correct horse");
    Deno.env.delete("STERNFAST_TEST_SECRET");
  });

  test("that is not there is a sentence with the name of its place", async () => {
    await expect(readSecret({ file: "/no/such/file" })).rejects.toThrow(
      "a secret should be in /no/such/file, which cannot be read: there is no such file.",
    );
    await expect(readSecret({ env: "STERNFAST_NO_SUCH" })).rejects.toThrow(CommandFailure);
  });
});
