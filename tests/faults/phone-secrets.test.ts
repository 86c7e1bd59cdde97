import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { PhoneService } from "../support/phone-service.ts";
import { ROOT, sternfast } from "../support/sternfast.ts";

const SECRETS = ["correct-horse", "battery-staple"];

/** Every file of a folder and of those in it, as text. */
function* textsIn(folder: string): Generator<string> {
  for (const { name, isDirectory } of Deno.readDirSync(folder)) {
    const path = `${folder}/${name}`;
    if (isDirectory) yield* textsIn(path);
    else yield new TextDecoder("latin1").decode(Deno.readFileSync(path));
  }
}

test.each([
  ["that is taken", [], "post: accepted"],
  ["that is refused", [404, 404, 404, 404], "refused"],
  ["that is put off", [503, 503, 503, 503], "could not be reached"],
])("nothing secret is printed or kept for a message %s", async (_, statuses, said) => {
  const service = new PhoneService([...statuses]);
  const folder = ownFolder({
    "address": `${service.url}/correct-horse\n`,
    "sternfast.yaml": [
      `boat: ${ROOT}/examples/hazel-comfort/boat.yaml`,
      `rules: ${ROOT}/examples/hazel-comfort/rules`,
      "state: state",
      "people:",
      "  - name: Ellen",
      "    reach:",
      "      - { post: { file: address }, headers: { Authorization: { env: PHONE_TOKEN } } }",
    ].join("\n"),
  });
  Deno.chmodSync(`${folder}/address`, 0o600);
  const env = { PHONE_TOKEN: "battery-staple" };
  const hailed = await sternfast(["hail"], { folder, env });
  const recording = `${ROOT}/examples/hazel-comfort/recordings/oil-pressure-falls.log.gz`;
  const watched = await sternfast(["run", recording], { folder, env });
  expect(hailed.out).toContain(said);
  expect(service.received.length).toBeGreaterThan(1);
  const everything = [
    ...[hailed.out, hailed.error, watched.out, watched.error],
    ...textsIn(`${folder}/state`),
  ].join("\n");
  for (const secret of SECRETS) expect(everything).not.toContain(secret);
  expect(everything).not.toContain("can be read by others");
});

test("run says that others can read a secret", async () => {
  const service = new PhoneService();
  const folder = ownFolder({
    "address": service.url,
    "sternfast.yaml": "people: [{ name: Ellen, reach: [{ post: { file: address } }] }]",
  });
  Deno.chmodSync(`${folder}/address`, 0o644);
  const words = `the secret in ${folder}/address can be read by others`;
  expect((await sternfast(["hail"], { folder })).error).toContain(words);
  expect((await sternfast(["check", "sternfast.yaml"], { folder })).error).toContain(words);
});
