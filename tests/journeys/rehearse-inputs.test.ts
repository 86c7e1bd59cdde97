import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { rehearse } from "../../src/commands/rehearse.ts";
import { EXAMPLE_FOLDER } from "../support/example-recordings.ts";
import { inside } from "../support/inside.ts";
import { ROOT } from "../support/sternfast.ts";

const EXAMPLE = `${ROOT}/${EXAMPLE_FOLDER}`;

let folder: string;

beforeEach(async () => {
  folder = await Deno.makeTempDir();
});
afterEach(() => Deno.remove(folder, { recursive: true }));

function rehearsed(...typed: string[]) {
  return inside(rehearse, [...typed, "--settings", `${EXAMPLE}/sternfast.yaml`], folder);
}

async function lay(as: string): Promise<void> {
  await Deno.copyFile(`${EXAMPLE}/recordings/key-off.log.gz`, `${folder}/${as}`);
}

describe("a folder of recordings", () => {
  test("may hold what a rehearsal has left there: its report and its memory", async () => {
    await lay("key-off.log.gz");
    const typed = [".", "--report", "page.html", "--memory", "usual.jsonl"];
    const first = await rehearsed(...typed);
    expect(first.code).toBe(0);
    expect(await rehearsed(...typed)).toMatchObject({ code: 0, error: first.error });
  });

  test("holds no expectations that nothing is held to", async () => {
    await lay("trip.2.log.gz");
    await Deno.writeTextFile(`${folder}/trip.2.expect.yml`, "never: [engine-sender-lost]\n");
    const own = await rehearsed(".");
    expect(own.code).toBe(1);
    expect(own.out).toContain("Expectations (trip.2.expect.yml): one thing does not hold.");
    await Deno.writeTextFile(`${folder}/trip.expct.yaml`, "expect: []\n");
    expect(await rehearsed(".")).toMatchObject({
      code: 2,
      error: "trip.expct.yaml: expectations end in .expect.yaml; nothing was rehearsed.\n",
    });
    await Deno.rename(`${folder}/trip.expct.yaml`, `${folder}/trip.expect.yaml`);
    expect(await rehearsed(".")).toMatchObject({
      code: 2,
      error: "trip.expect.yaml: no recording of that name lies beside it; nothing was rehearsed.\n",
    });
  });
});

test("a recording without a frame ends with 2, alone and beside others", async () => {
  // The head of a pcap file, and nothing after it.
  const head = Uint32Array.of(0xa1b2c3d4, 0x40002, 0, 0, 65535, 227);
  await Deno.writeFile(`${folder}/silent.pcap`, new Uint8Array(head.buffer));
  await lay("key-off.log.gz");
  const error = "silent.pcap: no frame was found in it, and nothing was rehearsed.\n";
  for (const inputs of [["silent.pcap"], ["."], ["key-off.log.gz", "silent.pcap"]]) {
    expect(await rehearsed(...inputs)).toMatchObject({ code: 2, error });
  }
});

describe("a rule that asks who is aboard", () => {
  const WHY =
    "Nobody counts as aboard where nobody has said so; that is why left-switched-on came.";

  async function rehearsedAlone(...typed: string[]) {
    await lay("key-off.log.gz");
    await Deno.writeTextFile(
      `${folder}/left.yaml`,
      `alarms:
  - tag: left-switched-on
    title: Left switched on
    each: battery
    high: { signal: voltage, setpoint: 5 V }
    watch-while: { signal: boat/condition, one-of: [left] }
    priority: warning
`,
    );
    const { out } = await rehearsed("key-off.log.gz", "--rules", "left.yaml", ...typed);
    return out;
  }

  test("came because nobody has said that they were: that is said at the end", async () => {
    expect(await rehearsedAlone()).toContain(WHY);
  });

  test("came for good reason where answers tell of them: then nothing is said", async () => {
    const left = "conditions: [{ at: 2026-01-01T00:00:00Z, condition: left }]\n";
    await Deno.writeTextFile(`${folder}/answers.yaml`, left);
    const out = await rehearsedAlone("--answer", "answers.yaml");
    expect(out).toContain("Left switched on");
    expect(out).not.toContain(WHY);
  });
});
