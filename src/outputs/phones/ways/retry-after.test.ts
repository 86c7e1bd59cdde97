import { expect, test } from "vitest";
import { HOUR, parseIsoTime, SECOND } from "../../../ground/time.ts";
import { retryAfter } from "./retry-after.ts";

const wall = parseIsoTime("1999-12-31T23:59:00Z") ?? 0;

// The two examples of RFC 9110, section 10.2.3.
test("a service may name seconds or a date", () => {
  expect(retryAfter("120", wall)).toBe(120 * SECOND);
  expect(retryAfter("Fri, 31 Dec 1999 23:59:59 GMT", wall)).toBe(59 * SECOND);
});

test("a date that has passed is now", () => {
  expect(retryAfter("Fri, 31 Dec 1999 23:00:00 GMT", wall)).toBe(0);
});

test("no service puts an alarm off for more than an hour", () => {
  expect(retryAfter("86400", wall)).toBe(HOUR);
});

test("nothing, or nonsense, leaves it to the usual back-off", () => {
  expect(retryAfter(null, wall)).toBeUndefined();
  expect(retryAfter("soon", wall)).toBeUndefined();
});
