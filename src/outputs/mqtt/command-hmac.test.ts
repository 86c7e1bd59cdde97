import { createHmac } from "node:crypto";
import { expect, test } from "vitest";
import { canonicalJson, commandHmac, hasRightHmac } from "./command-hmac.ts";

const TOPIC = "sternfast/hazel-comfort/command/acknowledge";

/** RFC 8785 §3.2.2 and §3.2.3, without the escapes that JSON.stringify makes itself. */
test("canonical JSON has its keys in order, whatever their order was", () => {
  const written = {
    "\u20ac": "Euro Sign",
    "\r": "Carriage Return",
    "1": "One",
    numbers: [1e30, 4.5],
  };
  expect(canonicalJson(written)).toBe(
    '{"\\r":"Carriage Return","1":"One","numbers":[1e+30,4.5],"€":"Euro Sign"}',
  );
  expect(canonicalJson({ b: [{ d: null, c: true }], a: 1 })).toBe(
    '{"a":1,"b":[{"c":true,"d":null}]}',
  );
});

test("the HMAC is that of SHA-256 over topic and fields", () => {
  const expected = createHmac("sha256", "key").update(`${TOPIC}\n{"id":"a1","who":"Ellen"}`);
  expect(commandHmac(TOPIC, { who: "Ellen", id: "a1" }, "key")).toBe(expected.digest("hex"));
});

test("another field, topic or key makes another HMAC", () => {
  const fields = { id: "a1", occurrence: 41 };
  const hmac = commandHmac(TOPIC, fields, "key");
  expect(hasRightHmac(TOPIC, { ...fields, hmac }, "key")).toBe(true);
  expect(hasRightHmac(TOPIC, { ...fields, occurrence: 42, hmac }, "key")).toBe(false);
  expect(hasRightHmac(TOPIC, { ...fields, more: 1, hmac }, "key")).toBe(false);
  expect(hasRightHmac(`${TOPIC}x`, { ...fields, hmac }, "key")).toBe(false);
  expect(hasRightHmac(TOPIC, { ...fields, hmac }, "other")).toBe(false);
  expect(hasRightHmac(TOPIC, { ...fields, hmac: 7 }, "key")).toBe(false);
  expect(hasRightHmac(TOPIC, fields, "key")).toBe(false);
});
