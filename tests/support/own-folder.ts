import { dirname, join } from "node:path";
import { onTestFinished } from "vitest";

/** A folder for one test with these files in it; it is gone when the test is over. */
export function ownFolder(files: Readonly<Record<string, string | Uint8Array>> = {}): string {
  const folder = Deno.makeTempDirSync({ prefix: "sternfast-" });
  onTestFinished(() => Deno.removeSync(folder, { recursive: true }));
  for (const [name, content] of Object.entries(files)) {
    const file = join(folder, name);
    Deno.mkdirSync(dirname(file), { recursive: true });
    if (typeof content === "string") Deno.writeTextFileSync(file, content);
    else Deno.writeFileSync(file, content);
  }
  return folder;
}
