import { expect, test } from "vitest";
import { EmbeddedBrokerError, startEmbeddedBroker } from "./embedded-broker.ts";

test("a port in use is said in a sentence", async () => {
  const first = await startEmbeddedBroker({ port: 0 });
  const port = Number(new URL(first.url).port);
  const second = startEmbeddedBroker({ port });
  await expect(second).rejects.toThrow(EmbeddedBrokerError);
  await expect(startEmbeddedBroker({ port })).rejects.toThrow(
    `Port ${port} on 127.0.0.1 is in use by another program.`,
  );
  await first.stop();
  const third = await startEmbeddedBroker({ port });
  expect(third.url).toBe(`mqtt://127.0.0.1:${port}`);
  await third.stop();
});
