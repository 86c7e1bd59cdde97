import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { PhoneService } from "../support/phone-service.ts";
import { sternfast } from "../support/sternfast.ts";

test("hail tries every way to everybody, prints each answer, and fails where one did", async () => {
  const good = new PhoneService();
  const bad = new PhoneService([404]);
  const folder = ownFolder({
    "sternfast.yaml": [
      "people:",
      "  - name: Ellen",
      `    reach: [{ post: "${good.url}" }, { post: "${bad.url}" }]`,
      `  - { name: Tom, reach: [{ post: "${good.url}" }] }`,
    ].join("\n"),
  });
  const first = await sternfast(["hail"], { folder });
  const host = new URL(bad.url).host;
  expect(first.out).toBe(
    `Ellen, post: accepted\nEllen, post-2: refused, ${host} answered 404\nTom, post: accepted\n`,
  );
  expect(first.code).toBe(1);
  expect(good.taken.map(({ message }) => message.about)).toEqual(["hail", "hail"]);

  const second = await sternfast(["hail", "--json"], { folder });
  expect(second.out.trim().split("\n").map((line) => JSON.parse(line).outcome))
    .toEqual(["accepted", "accepted", "accepted"]);
  expect(second.code).toBe(0);
});

test("hail without anybody to tell says what is missing", async () => {
  const { code, error } = await sternfast(["hail"], { folder: ownFolder({}) });
  expect(code).toBe(2);
  expect(error).toContain("hail needs somebody to tell: people: in the settings");
});
