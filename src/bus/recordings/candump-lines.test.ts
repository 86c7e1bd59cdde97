import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readCandump } from "../../../tests/support/candump-text.ts";
import { FrameFlag } from "../frame-batch.ts";
import { SourceEndedEarly } from "../frame-source.ts";

async function theFrame(line: string) {
  const { frames, source } = await readCandump(`${line}\n`);
  expect(source.problems).toEqual([]);
  expect(frames).toHaveLength(1);
  return frames[0];
}

async function theProblem(line: string) {
  const { frames, source } = await readCandump(`${line}\n`);
  expect(frames).toEqual([]);
  expect(source.counts.malformed).toBe(1);
  return source.problems[0];
}

describe("a line of candump", () => {
  test("is a frame with its time, bus, identifier and data", async () => {
    expect(await theFrame("(1538388000.035000) can0 0CF00400#F0FF000000FFFFFF")).toEqual({
      time: 1_538_388_000_035_000,
      bus: "can0",
      flags: FrameFlag.extended,
      identifier: 0x0cf00400,
      length: 8,
      data: [0xf0, 0xff, 0, 0, 0, 0xff, 0xff, 0xff],
    });
  });

  test.each([
    ["1.5", 1_500_000],
    ["1.000001", 1_000_001],
    ["1538388000.999999999", 1_538_388_000_999_999],
    ["0.123456789", 123_456],
    ["9007199253.999999", 9_007_199_253_999_999],
  ])("keeps the time %s exact to the microsecond", async (text, micros) => {
    expect((await theFrame(`(${text}) can0 123#`)).time).toBe(micros);
  });

  test.each([
    ["three digits: 11 bits", "123#AB", { flags: 0, identifier: 0x123, length: 1 }],
    ["no data", "00000001#", { flags: FrameFlag.extended, identifier: 1, length: 0 }],
    ["lower case", "1fffffff#ab", { identifier: 0x1fffffff, data: [0xab] }],
    ["remote", "18EAFF00#R", { flags: FrameFlag.extended | FrameFlag.remote, length: 0, data: [] }],
    ["remote with a length", "7FF#R8", { flags: FrameFlag.remote, length: 8, data: [] }],
    ["an error", "20000080#0000000000000000", { flags: FrameFlag.error, identifier: 0x80 }],
    ["FD", "00000001##1112233", { flags: FrameFlag.extended | FrameFlag.fd, length: 0 }],
    ["FD with 64 bytes", `123##0${"AB".repeat(64)}`, { flags: FrameFlag.fd, data: [] }],
    ["a raw length code", "123#1122334455667788_F", { length: 8 }],
    ["received", "123#11 R", { data: [0x11] }],
    ["sent", "123#11 T", { data: [0x11] }],
    ["sent by remote request", "123#R T", { flags: FrameFlag.remote }],
  ])("may be of another kind: %s", async (_kind, frame, expected) => {
    expect(await theFrame(`(1.000000) can0 ${frame}`)).toMatchObject(expected);
  });

  test("may have its interface padded, as with names of several lengths", async () => {
    expect((await theFrame("(1.000000)   can0 123#")).bus).toBe("can0");
  });

  test.each([
    ["Dear all", "a time"],
    ["(x.5) can0 123#", "a time"],
    ["(1) can0 123#", "a time"],
    ["(1.) can0 123#", "a time"],
    ["(1.0000000001) can0 123#", "a time"],
    ["(9007199254.000000) can0 123#", "a time"],
    ["(12345678901.000000) can0 123#", "a time"],
    ["(1.000000)can0 123#", "a time"],
    ["(1.000000) can0", "network interface"],
    ["(1.000000) a-name-of-sixteen 123#", "network interface"],
    ["(1.000000) cän0 123#", "network interface"],
    ["(1.000000) can0 12#", "an identifier"],
    ["(1.000000) can0 1234#", "an identifier"],
    ["(1.000000) can0 800#", "an identifier"],
    ["(1.000000) can0 40000000#", "an identifier"],
    ["(1.000000) can0 123456789#", "an identifier"],
    ["(1.000000) can0 123", "an identifier"],
    ["(1.000000) can0 123#1", "up to 8 data bytes"],
    ["(1.000000) can0 123#1G", "up to 8 data bytes"],
    ["(1.000000) can0 123#112233445566778899", "the end of the line"],
    ["(1.000000) can0 123#1122334455667788_8", "the end of the line"],
    ["(1.000000) can0 123#R9", "the end of the line"],
    ["(1.000000) can0 123##", "CAN FD"],
    ["(1.000000) can0 123##01", "CAN FD"],
    [`(1.000000) can0 123##0${"AB".repeat(65)}`, "the end of the line"],
    ["(1.000000) can0 123#11 X", "the end of the line"],
  ])("is malformed as %s", async (line, expected) => {
    const problem = await theProblem(line);
    expect(problem.at).toBe(1);
    expect(problem.expected).toContain(expected);
  });

  test("is shown as far as it can be read", async () => {
    expect((await theProblem("Grüße\x01")).found).toBe("Gr····e·");
    expect((await theProblem("x".repeat(80))).found).toBe(`${"x".repeat(60)}…`);
  });
});

describe("a text of candump lines", () => {
  const good = "(1.000000) can0 123#0102030405060708";

  test("may have empty lines and ends of lines of either kind", async () => {
    const { frames, source } = await readCandump(`\n${good}\r\n\r\n${good}\n\n`);
    expect(frames).toHaveLength(2);
    expect(source.counts.malformed).toBe(0);
  });

  test("goes on after a malformed line, and gives its number", async () => {
    const { frames, source } = await readCandump(`${good}\n\nnonsense\n${good}\n`);
    expect(frames).toHaveLength(2);
    expect(source.problems).toEqual([
      { at: 3, found: "nonsense", expected: "a time such as (1538388000.035000)" },
    ]);
  });

  test("shows twenty malformed lines and counts them all", async () => {
    const { source } = await readCandump("nonsense\n".repeat(25));
    expect(source.counts.malformed).toBe(25);
    expect(source.problems).toHaveLength(20);
  });

  test("passes over a line without end in bounded memory", async () => {
    const { frames, source } = await readCandump(`${"7".repeat(5_000)}\n${good}\n`, [1000]);
    expect(frames).toHaveLength(1);
    expect(source.problems[0].expected).toBe("a line of at most 300 bytes");
  });

  test("counts the frames that the kernel dropped, as candump -d reports them", async () => {
    const notice = "DROPCOUNT: dropped 3 CAN frames on 'can0' socket (total drops 3)";
    const { source } = await readCandump(`${good}\n${notice}\n${good}\n`);
    expect(source.counts).toMatchObject({ frames: 2, dropped: 3, malformed: 0 });
  });

  test("has at most sixteen buses", async () => {
    const lines = Array.from({ length: 18 }, (_, bus) => `(1.000000) can${bus} 123#\n`);
    const { frames, source } = await readCandump(lines.join(""));
    expect(frames).toHaveLength(16);
    expect(source.counts.malformed).toBe(2);
    expect(source.problems[0].expected).toBe("at most 16 buses");
  });

  test("need not end its last line, if eight data bytes are there", async () => {
    const { frames, error } = await readCandump(`${good}\n${good}`);
    expect(frames).toHaveLength(2);
    expect(error).toBeUndefined();
  });

  test.each([1, 10, 12, 16, 20, 21, 33, 34])(
    "is cut off where its last line lacks %i bytes",
    async (missing) => {
      const { frames, error } = await readCandump(`${good}\n${good.slice(0, -missing)}`);
      expect(frames).toHaveLength(1);
      expect(error).toBeInstanceOf(SourceEndedEarly);
      expect(String(error)).toContain("voyage.log ends in the middle of line 2");
    },
  );

  test("is read the same however its bytes come", async () => {
    const line = fc.oneof(
      { weight: 3, arbitrary: fc.constantFrom(good, "(2.5) can1 18EEFF00#0011", "(3.0) x 7FF#R") },
      fc.string({ maxLength: 20 }),
      fc.constantFrom("", "\r", "(", "(1.000000) can0 123#0", "y".repeat(400)),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.array(line, { maxLength: 30 }),
        fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 1, maxLength: 10 }),
        async (lines, sizes) => {
          const text = lines.join("\n");
          const whole = await readCandump(text, [1_000_000]);
          const cut = await readCandump(text, sizes);
          expect(cut.frames).toEqual(whole.frames);
          expect(cut.source.counts).toEqual(whole.source.counts);
          expect(cut.source.problems).toEqual(whole.source.problems);
          expect(String(cut.error)).toBe(String(whole.error));
        },
      ),
    );
  });
});
