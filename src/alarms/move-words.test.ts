import { expect, test } from "vitest";
import { moveWords } from "./move-words.ts";
import type { AlarmStateName, Hold } from "./words.ts";

test.each<[AlarmStateName, AlarmStateName, Hold, string, string]>([
  ["normal", "unacknowledged", "none", "", "raised"],
  ["normal", "acknowledged", "none", "", "raised"],
  ["returned-unacknowledged", "unacknowledged", "none", "", "raised"],
  ["unacknowledged", "acknowledged", "none", "Ellen", "answered"],
  ["acknowledged", "unacknowledged", "none", "", "asks again"],
  ["unacknowledged", "unacknowledged", "none", "", "asks again"],
  ["unacknowledged", "returned-unacknowledged", "none", "", "over, not yet answered"],
  ["returned-unacknowledged", "normal", "none", "Ellen", "answered"],
  ["acknowledged", "normal", "none", "", "over"],
  ["unacknowledged", "latched-unacknowledged", "none", "", "over, held until answered and reset"],
  ["latched-unacknowledged", "latched-acknowledged", "none", "Ellen", "answered"],
  ["acknowledged", "latched-acknowledged", "none", "", "over, held until reset"],
  ["latched-acknowledged", "normal", "none", "Ellen", "reset"],
  ["unacknowledged", "unacknowledged", "shelved", "Ellen", "shelved"],
  ["unacknowledged", "acknowledged", "shelved", "Ellen", "answered"],
  ["normal", "normal", "out-of-service", "Ellen", "taken out of service"],
  ["normal", "normal", "none", "Ellen", "put back"],
  ["acknowledged", "unacknowledged", "none", "Ellen", "put back"],
  ["normal", "normal", "none", "", "no longer put aside"],
])("%s to %s, hold %s, by '%s': %s", (from, to, hold, by, words) => {
  expect(moveWords({ from, to, hold, by })).toBe(words);
});
