/**
 * Writes the recordings of the example boat anew; to be run after the simulator or a row has
 * changed: `deno run -A tests/support/write-example-recordings.ts`
 */
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { EXAMPLE_FOLDER, EXAMPLE_RECORDINGS, exampleRecording } from "./example-recordings.ts";

const folder = fileURLToPath(new URL(`../../${EXAMPLE_FOLDER}/recordings`, import.meta.url));
await Deno.mkdir(folder, { recursive: true });
for (const name of Object.keys(EXAMPLE_RECORDINGS)) {
  await Deno.writeFile(
    `${folder}/${name}.log.gz`,
    gzipSync(exampleRecording(name), { level: 9 }),
  );
}
