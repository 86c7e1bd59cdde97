import { expect, test } from "vitest";
import { messageKey } from "./message-key.ts";

test("a key is the same every time, and fits where 32 characters of base64url are the most", () => {
  const key = messageKey("00112233aabbccdd", "7 raised", "ellen");
  expect(key).toMatch(/^[A-Za-z0-9_-]{32}$/);
  expect(messageKey("00112233aabbccdd", "7 raised", "ellen")).toBe(key);
});

test("another boat's memory, another event or another person makes another key", () => {
  const keys = [
    messageKey("00112233aabbccdd", "7 raised", "ellen"),
    messageKey("00112233aabbccde", "7 raised", "ellen"),
    messageKey("00112233aabbccdd", "8 raised", "ellen"),
    messageKey("00112233aabbccdd", "7 raised", "tom"),
  ];
  expect(new Set(keys).size).toBe(4);
});

test("the digest is SHA-256, as sha256sum (coreutils) makes it", () => {
  // printf '["00112233aabbccdd","7 raised","ellen"]' | sha256sum | cut -c1-48 | xxd -r -p | base64
  expect(messageKey("00112233aabbccdd", "7 raised", "ellen")).toBe(
    "mhJ9cj8jokLrBgrrvEqqtkXKYWg5dC_s",
  );
});
