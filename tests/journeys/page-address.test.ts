import { expect, test } from "vitest";
import { Certificates } from "../support/certificates.ts";
import { ownFolder } from "../support/own-folder.ts";
import { PageVisitor } from "../support/page-visitor.ts";
import { start, sternfast } from "../support/sternfast.ts";

const BOAT = `boat: dora\n`;

async function refusal(page: string, files: Record<string, string> = {}): Promise<string> {
  const folder = ownFolder({
    "sternfast.yaml": `input: "-"\nboat: boat.yaml\npage: ${page}\n`,
    "boat.yaml": BOAT,
    ...files,
  });
  const { code, error } = await sternfast(["run"], { folder, input: "" });
  expect(code).toBe(2);
  return error.trim().split("\n").at(-1)?.replaceAll(folder, "FOLDER") ?? "";
}

test("a page that others could reach does not start without a passphrase", async () => {
  expect(await refusal(`{ address: "0.0.0.0:8250" }`)).toBe(
    "The page was not started: others could reach 0.0.0.0:8250, so it needs a passphrase " +
      "(page: { act: { file: PATH } } in the settings). Without one, use 127.0.0.1:8250.",
  );
});

test("a passphrase that is soon guessed is refused, and not repeated", async () => {
  const page = `{ address: "0.0.0.0:8250", act: { file: act } }`;
  const said = await refusal(page, { act: "tarred\n" });
  expect(said).toBe(
    "Settings: the passphrase of page: act has 6 characters; it needs at least 12. " +
      "Four words are good and easy to type.",
  );
});

test("the two passphrases must differ, and watch does not go without act", async () => {
  const files = { act: "four small tarred ropes", watch: "four small tarred ropes" };
  expect(
    await refusal(`{ address: "127.0.0.1:0", act: { file: act }, watch: { file: watch } }`, files),
  )
    .toBe("Settings: page: act and watch need two different passphrases.");
  expect(await refusal(`{ address: "127.0.0.1:0", watch: { file: watch } }`, files))
    .toBe("Settings: page: watch is set, so act needs a passphrase too.");
});

test("a certificate that is none, or lacks its own key, is said", async () => {
  const certificates = new Certificates(ownFolder());
  for (const name of ["boat", "other"]) certificates.sign(name);
  const files = {
    "page.pem": "not a certificate",
    "key.pem": "no key",
    "boat.crt": certificates.of("boat").certificate,
    "other.key": certificates.of("other").key,
  };
  expect(await refusal(`{ address: "127.0.0.1:0", certificate: { file: page.pem } }`, files))
    .toBe("Settings: page: certificate and key belong together; one is missing.");
  for (
    const [certificate, key] of [
      ["page.pem", "key.pem"],
      ["boat.crt", "key.pem"],
      ["boat.crt", "other.key"],
    ]
  ) {
    const pair = `certificate: { file: ${certificate} }, key: { file: ${key} }`;
    expect(await refusal(`{ address: "127.0.0.1:0", ${pair} }`, files), pair).toBe(
      "The page was not started: its certificate or key is not a PEM text that fits the other. " +
        "Look at page: certificate and key in the settings.",
    );
  }
});

test("with a passphrase it starts, asks for it, and writes it nowhere", async () => {
  const passphrase = "four small tarred ropes";
  const folder = ownFolder({
    "sternfast.yaml": `
input: "-"
boat: boat.yaml
state: state
page: { address: "0.0.0.0:0", act: { file: act } }
`,
    "boat.yaml": BOAT,
    "act": passphrase,
  });
  const boat = await start(["run"], { folder, input: "piped" });
  const said = await boat.until(/The page is at \S+/);
  const url = /The page is at (\S+)/.exec(said)?.[1] ?? "";
  const visitor = new PageVisitor(url.replace("0.0.0.0", "127.0.0.1"));
  expect((await visitor.get()).headers.get("location")).toBe("/sign-in");
  expect((await visitor.signIn(passphrase)).status).toBe(303);
  expect(await visitor.look()).toContain("<h1>Dora</h1>");
  boat.interrupt();
  const { out, error } = await boat.finished();
  expect(out + error).not.toContain(passphrase);
  for (const { name } of Deno.readDirSync(`${folder}/state`)) {
    const bytes = Deno.readFileSync(`${folder}/state/${name}`);
    expect(new TextDecoder("latin1").decode(bytes).includes(passphrase), name).toBe(false);
  }
});
