import { createECDH, randomBytes } from "node:crypto";
import { expect, onTestFinished, test } from "vitest";
import { lookAtPushDevices, openPushDevices } from "./push-devices.ts";

const ELLEN = { name: "Ellen", wants: [], reach: [{ push: "ellen@boat.example" }] };

function subscription(device: string) {
  const p256dh = createECDH("prime256v1").generateKeys("base64url");
  const auth = randomBytes(16).toString("base64url");
  return {
    endpoint: `https://push.example/${device}`,
    expirationTime: null,
    keys: { p256dh, auth },
  };
}

function stateFolder(): string {
  const folder = Deno.makeTempDirSync({ prefix: "sternfast-" });
  onTestFinished(() => Deno.removeSync(folder, { recursive: true }));
  return folder;
}

test("devices are there after a restart and for who looks on, but not those that are gone", async () => {
  const state = stateFolder();
  const said: string[] = [];
  const devices = await openPushDevices([ELLEN], state, (sentence) => said.push(sentence));
  const [phone, tablet] = [subscription("phone"), subscription("tablet")];
  await devices?.subscriptions.add("Ellen", phone);
  await devices?.subscriptions.add("Ellen", tablet);
  devices?.gone(tablet, "Ellen");
  await devices?.subscriptions.add("Ellen", phone);
  expect(said).toEqual([
    "A device of Ellen's has ended its push messages, and is not told any more.",
  ]);
  const again = await openPushDevices([ELLEN], state, () => {});
  const looking = await lookAtPushDevices(state, () => {});
  for (const one of [again, looking]) {
    expect(one?.subscriptions.of("Ellen")).toEqual([phone]);
    expect(one?.keys).toEqual(devices?.keys);
  }
});

test("a device that cannot be read is left out, and nothing else", async () => {
  const state = stateFolder();
  const devices = await openPushDevices([ELLEN], state, () => {});
  await devices?.subscriptions.add("Ellen", subscription("phone"));
  Deno.writeTextFileSync(`${state}/push-devices`, "{\n[]\n", { append: true });
  const again = await openPushDevices([ELLEN], state, () => {});
  expect(again?.subscriptions.of("Ellen")).toHaveLength(1);
});

test("whoever only looks writes nothing", async () => {
  const state = stateFolder();
  const looking = await lookAtPushDevices(state, () => {});
  await looking?.subscriptions.add("Ellen", subscription("phone"));
  expect([...Deno.readDirSync(state)]).toEqual([]);
});
