import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readCandump } from "../../../tests/support/candump-text.ts";
import { anyFrame } from "../../../tests/support/any-frame.ts";
import { batchOf, type Frame } from "../../../tests/support/frames.ts";
import { BusNames } from "../bus-names.ts";
import { FrameFlag } from "../frame-batch.ts";
import { CandumpWriter } from "./candump-writer.ts";

function textOf(frames: readonly Frame[]): string {
  const buses = new BusNames();
  return new TextDecoder().decode(new CandumpWriter(buses).lines(batchOf(frames, buses)));
}

const claim: Frame = {
  time: 1_538_388_000_000_042,
  bus: "can0",
  flags: FrameFlag.extended,
  identifier: 0x18eeff47,
  length: 8,
  data: [0x4d, 0x74, 0x30, 0x04, 0x00, 0x34, 0x02, 0x20],
};

describe("written candump lines", () => {
  test.each<[string, Partial<Frame>, string]>([
    ["29 bits", {}, "(1538388000.000042) can0 18EEFF47#4D74300400340220\n"],
    ["an early time", { time: 1_000_001 }, "(0000000001.000001) can0 18EEFF47#4D74300400340220\n"],
    ["11 bits", { flags: 0, identifier: 1, length: 1 }, "(1538388000.000042) can0 001#4D\n"],
    ["no data", { length: 0 }, "(1538388000.000042) can0 18EEFF47#\n"],
    [
      "remote",
      { flags: FrameFlag.remote, identifier: 0x7ff },
      "(1538388000.000042) can0 7FF#R8\n",
    ],
    [
      "an error",
      { flags: FrameFlag.error, identifier: 4, length: 1 },
      "(1538388000.000042) can0 20000004#4D\n",
    ],
    ["another bus", { bus: "slcan0" }, "(1538388000.000042) slcan0 18EEFF47#4D74300400340220\n"],
  ])("are as candump -L writes them: %s", (_kind, change, line) => {
    expect(textOf([{ ...claim, ...change }])).toBe(line);
  });

  test("leave out FD frames, whose data is not kept", () => {
    expect(textOf([{ ...claim, flags: FrameFlag.extended | FrameFlag.fd }])).toBe("");
  });

  test("can be of a part of a batch", () => {
    const buses = new BusNames();
    const batch = batchOf([claim, { ...claim, length: 1 }, { ...claim, length: 2 }], buses);
    const lines = new CandumpWriter(buses).lines(batch, 1, 2);
    expect(new TextDecoder().decode(lines)).toBe("(1538388000.000042) can0 18EEFF47#4D\n");
  });

  test("are read back as the same frames", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(anyFrame, { maxLength: 40 }), async (frames) => {
        const { frames: read, error } = await readCandump(textOf(frames));
        expect(error).toBeUndefined();
        expect(read).toEqual(frames);
      }),
    );
  });
});
