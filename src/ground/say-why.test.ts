import { expect, test } from "vitest";
import { sayWhy } from "./say-why.ts";

test("what the operating system refuses is said without its numbers", async () => {
  const refused = async (file: string) =>
    sayWhy(await Deno.readFile(file).catch((error: unknown) => error));
  expect(await refused("/no-such-folder/file")).toBe("there is no such file or folder");
  expect(await refused("/")).toBe("it is a folder");
  expect(await refused("/etc/hostname/file")).toBe("a part of that path is no folder");
});

test("what is not known here is said as the system says it, without its number", () => {
  expect(sayWhy(new Error("Out of sorts (os error 999): open '/x'"))).toBe("Out of sorts");
  expect(sayWhy("odd")).toBe("odd");
});
