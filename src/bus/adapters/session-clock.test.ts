import { describe, expect, test } from "vitest";
import { MILLISECOND, SECOND } from "../../ground/time.ts";
import { SessionClock } from "./session-clock.ts";

/** Clocks that stand where a test puts them. */
function handClock() {
  const hands = { steady: 1_000 * SECOND, wall: 5_000 * SECOND };
  const clock = { steady: () => hands.steady, wall: () => hands.wall };
  const pass = (length: number) => {
    hands.steady += length;
    hands.wall += length;
  };
  return { hands, pass, session: new SessionClock(clock) };
}

describe("a session's clock", () => {
  test("stamps by the wall's offset at its beginning", () => {
    const { session, pass } = handClock();
    pass(SECOND);
    expect(session.look()).toBe(false);
    expect(session.now()).toBe(5_001 * SECOND);
  });

  test("takes what cannot be told from a slow reading for no step", () => {
    const { session, hands } = handClock();
    hands.wall += 200 * MILLISECOND;
    expect(session.look()).toBe(false);
    expect(session.now()).toBe(5_000 * SECOND);
  });

  test.each([3_600 * SECOND, -2 * SECOND])("sees the wall stepped by %i µs", (by) => {
    const { session, hands, pass } = handClock();
    hands.wall += by;
    expect(session.look()).toBe(true);
    const before = session.now() - 5 * MILLISECOND;
    expect(session.isAfterStep(before)).toBe(false);
    expect(session.isAfterStep(before + by)).toBe(true);
    expect(session.takeStep()).toBe(by);
    expect(session.look()).toBe(false);
    pass(SECOND);
    expect(session.now()).toBe(5_001 * SECOND + by);
  });

  test("adds up steps that follow one another before a frame has shown them", () => {
    const { session, hands } = handClock();
    hands.wall += SECOND;
    session.look();
    hands.wall += SECOND;
    expect(session.look()).toBe(true);
    expect(session.takeStep()).toBe(2 * SECOND);
  });

  test("takes a reading that was interrupted for none", () => {
    const { hands } = handClock();
    let interrupted = false;
    const session = new SessionClock({
      steady: () => hands.steady,
      wall: () => {
        if (interrupted) hands.steady += SECOND;
        return hands.wall;
      },
    });
    interrupted = true;
    expect(session.look()).toBe(false);
  });

  test("forgets a step that was taken back", () => {
    const { session, hands } = handClock();
    hands.wall += SECOND;
    session.look();
    hands.wall -= SECOND;
    expect(session.look()).toBe(false);
  });
});
