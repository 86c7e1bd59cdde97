import { expect, test } from "vitest";
import { sayConnectionTrouble } from "./connection-words.ts";

async function troubleWith(hostname: string, port: number): Promise<string> {
  const connection = await Deno.connect({ hostname, port }).catch((error: unknown) => error);
  return sayConnectionTrouble(connection);
}

test("why a connection cannot be had is said without the system's numbers", async () => {
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  const { port } = listener.addr as Deno.NetAddr;
  listener.close();
  expect(await troubleWith("127.0.0.1", port)).toBe("nothing listens at that port");
  expect(await troubleWith("no-such-computer.invalid", port)).toBe(
    "no computer of that name is known",
  );
});

test("what is not known here is said as the system says it", () => {
  expect(sayConnectionTrouble(new Error("out of sorts"))).toBe("out of sorts");
});
