import { basename, join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { BusNames } from "../../src/bus/bus-names.ts";
import { openInput } from "../../src/bus/open-input.ts";
import { type Frame, readAll } from "../support/frames.ts";
import { SmallFolder } from "../support/small-folder.ts";
import { SlcanAdapter } from "../support/slcan-adapter.ts";
import { start, sternfast } from "../support/sternfast.ts";

const lineAt = (second: number, byte = second % 256) =>
  `(${1_781_431_200 + second}.000000) can0 18EEFF03#${byte.toString(16).padStart(2, "0")}\n`
    .toUpperCase().replace("CAN0", "can0");

let folder = "";
beforeEach(async () => {
  folder = await Deno.makeTempDir();
});
afterEach(async () => {
  await Deno.remove(folder, { recursive: true });
});

async function recordings(): Promise<string[]> {
  const names: string[] = [];
  for await (const { name } of Deno.readDir(join(folder, "recordings"))) names.push(name);
  return names.sort();
}

async function readBack(): Promise<{ frames: Frame[]; error: unknown }> {
  const buses = new BusNames();
  return await readAll(await openInput("recordings", { buses, folder }), buses);
}

/** Looks until something holds; the test's own time is its bound. */
async function until(holds: () => Promise<boolean>): Promise<void> {
  while (!await holds().catch(() => false)) await new Promise((resolve) => setTimeout(resolve, 50));
}

describe("what is recorded from standard input", () => {
  test("is given back frame for frame, in files of the asked length", async () => {
    const lines = Array.from({ length: 100 }, (_, second) => lineAt(second));
    const done = await sternfast(["record", "-", "--every", "30 s"], {
      folder,
      input: lines.join(""),
    });
    expect(done).toMatchObject({ code: 0, error: "" });
    // Standard input is taken for live, so where the lines come in several pieces their jumps of a
    // second may be taken for a clock that was set: then there are more files.
    expect(done.out).toMatch(/^100 frames in \d+ recordings in recordings\n$/);
    const { frames, error } = await readBack();
    expect(error).toBeUndefined();
    expect(frames.map(({ data }) => data[0])).toEqual(lines.map((_, second) => second));
  });

  test("is on the disk when the program is killed, all but the last second", async () => {
    const running = await start(["record", "-"], { folder, input: "piped" });
    const input = running.process.stdin.getWriter();
    const encoder = new TextEncoder();
    const begun = Math.floor(Date.now() / 1000);
    const now = (byte: number) => `(${begun + byte}.000000) can0 18EEFF03#0${byte}\n`;
    await input.write(encoder.encode(now(1) + now(2) + now(3)));
    await until(async () => (await readBack()).frames.length === 3);
    running.interrupt("SIGKILL");
    expect((await running.process.status).signal).toBe("SIGKILL");
    await input.close().catch(() => {});
    await running.finished();
    const { frames, error } = await readBack();
    expect(error).toBeUndefined();
    expect(frames.map(({ data }) => data[0])).toEqual([1, 2, 3]);
  });

  test("goes on in a new file after a kill, and both are read as one", async () => {
    for (const second of [1, 2]) {
      await sternfast(["record", "-"], { folder, input: lineAt(second) });
    }
    expect(await recordings()).toEqual([
      "2026-06-14T10-00-01Z.log.gz",
      "2026-06-14T10-00-02Z.log.gz",
    ]);
    expect((await readBack()).frames.map(({ data }) => data[0])).toEqual([1, 2]);
  });

  test("begins a new file where the clock was set back", async () => {
    const input = lineAt(100) + lineAt(101) + lineAt(50) + lineAt(51);
    const done = await sternfast(["record", "-"], { folder, input });
    expect(done.out).toBe("4 frames in 2 recordings in recordings\n");
    expect((await recordings())[0]).toBe("2026-06-14T10-00-50Z.log.gz");
  });
});

describe("what is recorded from the simulator", () => {
  test("is complete when a person interrupts, and can be exported", async () => {
    const running = await start(["record", "simulator:harbour-day", "--folder", "recordings"], {
      folder,
    });
    await until(async () => (await readBack()).frames.length > 50);
    running.interrupt("SIGINT");
    const done = await running.finished();
    expect(done.code).toBe(130);
    const said = Number(/^([\d,]+) frames in 1 recording/.exec(done.out)?.[1].replace(",", ""));
    expect((await readBack()).frames).toHaveLength(said);
    const exported = await sternfast(["export", "recordings"], { folder });
    expect(exported).toMatchObject({ code: 0, error: "" });
    expect(exported.out.split("\r\n").length).toBeGreaterThan(20);
  });
});

describe("record", () => {
  test.each([
    [["record"], "record needs an input"],
    [["record", "tcp:localhost:7", "-"], "tcp:localhost:7 bears the times of another clock"],
    [
      ["record", "a=slcan:/dev/no-such-1", "a=slcan:/dev/no-such-2"],
      "are both the bus a; give each a name of its own",
    ],
    [
      ["record", "-", "--most", "5 apples"],
      '--most: found "5 apples", expected a size such as 50 MB',
    ],
    [["record", "-", "--every", "0 s"], '--every: found "0 s", expected a time of 1 s or more'],
  ])("%j is refused with a sentence", async (typed, sentence) => {
    const done = await sternfast(typed, { folder });
    expect(done.code).toBe(2);
    expect(done.error).toContain(sentence);
  });

  test("says when it cannot write, and stops", async () => {
    await Deno.writeTextFile(join(folder, "recordings"), "in the way");
    const done = await sternfast(["record", "-"], { folder, input: lineAt(1) });
    expect(done.code).toBe(2);
    expect(done.error).toMatch(/recordings cannot be written \(.*\)\.\n$/);
  });
});

test("a disk that is full at the very last write is told, and what it took can be read", async (context) => {
  const small = SmallFolder.make(16);
  if (small === undefined) return context.skip("no small disk can be made here");
  try {
    // Bytes that do not pack, all of them written at the end.
    let state = 1;
    const next = () => state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const lines = Array.from(
      { length: 2_000 },
      (_, i) =>
        `(${(1_781_431_200 + i / 10_000).toFixed(6)}) can0 18EEFF03#` +
        `${
          [next(), next()].map((word) => word.toString(16).padStart(8, "0")).join("").toUpperCase()
        }\n`,
    ).join("");
    const done = await sternfast(["record", "-", "--folder", small.path], { folder, input: lines });
    expect(done.error).toMatch(/cannot be written \(the disk is full\)\.\n$/);
    expect(done.code).toBe(2);
    const buses = new BusNames();
    const { error } = await readAll(await openInput(small.path, { buses, folder }), buses);
    expect(String(error)).toContain("cut off");
  } finally {
    small.remove();
  }
});

test.each([
  ["by the name that it was given", "can1="],
  ["by its device", ""],
])(
  "a serial adapter is asked for the bit rate that the boat file gives its bus, %s",
  async (_, bus) => {
    const adapter = new SlcanAdapter(new TextEncoder().encode("T0CF0040080102030405060708\r"));
    const name = bus === "" ? basename(adapter.device) : "can1";
    await Deno.writeTextFile(
      join(folder, "boat.yaml"),
      `networks: { engine: { bus: "${name}", speaks: j1939, bit-rate: 500k } }\n`,
    );
    const typed = ["record", `${bus}slcan:${adapter.device}`, "--boat", "boat.yaml"];
    const recording = await start(typed, { folder });
    await recording.until(/connected/);
    await until(async () => (await recordings()).length === 1);
    recording.interrupt();
    const { code, out } = await recording.finished();
    await adapter.unplug();
    expect([code, out]).toEqual([130, "1 frame in 1 recording in recordings\n"]);
    expect(adapter.commands).toContain("S6");
  },
);

test("two adapters of this computer go into one recording, each by its own name", async () => {
  const adapters = [1, 2].map((engine) =>
    new SlcanAdapter(new TextEncoder().encode(`T0CF0040${engine}80102030405060708\r`))
  );
  const inputs = adapters.map(({ device }, i) => `can${i}=slcan:${device}`);
  const recording = await start(["record", ...inputs], { folder });
  await until(async () => new Set((await readBack()).frames.map(({ bus }) => bus)).size === 2);
  recording.interrupt();
  const { code, out } = await recording.finished();
  for (const adapter of adapters) await adapter.unplug();
  expect([code, out]).toEqual([130, "2 frames in 1 recording in recordings\n"]);
  const heard = (await readBack()).frames.map(({ bus, identifier }) => [bus, identifier & 0xff]);
  expect(heard.toSorted()).toEqual([["can0", 1], ["can1", 2]]);
});
