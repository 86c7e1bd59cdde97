import { describe, expect, test } from "vitest";
import { MINUTE } from "../../../ground/time.ts";
import { IDLE, LONGEST, MOST_SESSIONS, Sessions } from "./sessions.ts";

function sessions() {
  let count = 0;
  return new Sessions(() => `secret-${++count}`);
}

describe("a session", () => {
  test("knows who signed in and what they may do", () => {
    const kept = sessions();
    const secret = kept.begin("act", "Kim", 0);
    expect(kept.find(secret, 1)).toMatchObject({ role: "act", who: "Kim", formToken: "secret-2" });
  });

  test("is found by its own secret only", () => {
    const kept = sessions();
    kept.begin("act", "Kim", 0);
    expect(kept.find("secret-2", 1)).toBeUndefined();
    expect(kept.find("", 1)).toBeUndefined();
  });

  test("ends for good when somebody signs out", () => {
    const kept = sessions();
    const secret = kept.begin("act", "Kim", 0);
    kept.end(secret);
    expect(kept.isOpen(secret, 1)).toBe(false);
    expect(kept.find(secret, 1)).toBeUndefined();
  });

  test("ends when it is not used, and being looked at is no use", () => {
    const kept = sessions();
    const secret = kept.begin("watch", "Kim", 0);
    expect(kept.isOpen(secret, IDLE)).toBe(true);
    expect(kept.isOpen(secret, IDLE + 1)).toBe(false);
    expect(kept.find(secret, IDLE + 1)).toBeUndefined();
  });

  test("ends in the end, however much it is used", () => {
    const kept = sessions();
    const secret = kept.begin("watch", "Kim", 0);
    let now = 0;
    for (; now <= LONGEST; now += IDLE) expect(kept.find(secret, now)).toBeDefined();
    expect(kept.find(secret, now)).toBeUndefined();
  });

  test("that was used longest ago makes room when there are too many", () => {
    const kept = sessions();
    const secrets = Array.from({ length: MOST_SESSIONS }, (_, i) => kept.begin("act", "Kim", i));
    kept.find(secrets[0], MINUTE);
    kept.begin("act", "Kim", MINUTE);
    expect(kept.isOpen(secrets[0], MINUTE)).toBe(true);
    expect(kept.isOpen(secrets[1], MINUTE)).toBe(false);
  });
});
