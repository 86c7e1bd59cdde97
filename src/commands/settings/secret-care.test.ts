import { dirname } from "node:path";
import { expect, test } from "vitest";
import { secretCautions } from "./secret-care.ts";
import { readSettings } from "./settings.ts";
import { ownFolder } from "../../../tests/support/own-folder.ts";

test("a secret that others can read is told of; a certificate may be read by all", () => {
  const folder = ownFolder({ "open": "a", "closed": "b", "password": "c", "authority": "d" });
  Deno.chmodSync(`${folder}/closed`, 0o600);
  for (const name of ["open", "password", "authority"]) Deno.chmodSync(`${folder}/${name}`, 0o644);
  const { settings } = readSettings(
    "sternfast.yaml",
    dirname(`${folder}/sternfast.yaml`),
    `
mqtt: { broker: "mqtts://broker.example", password: { file: password }, authority: { file: authority } }
people:
  - name: Ellen
    reach:
      - { post: { file: open }, headers: { Authorization: { file: closed } } }
      - { post: { file: no-such-file } }
`,
  );
  expect(settings && secretCautions(settings)).toEqual([
    `Settings: the secret in ${folder}/password can be read by others on this computer; chmod 600 ends that.`,
    `Settings: the secret in ${folder}/open can be read by others on this computer; chmod 600 ends that.`,
  ]);
});
