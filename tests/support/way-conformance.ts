import { afterEach, describe, expect, test } from "vitest";
import { MILLISECOND, parseIsoTime, SECOND } from "../../src/ground/time.ts";
import type { PhoneMessage, Way } from "../../src/outputs/phones/way.ts";

/** What the far side does with the next try. */
export type FarSide = "accepts" | "not-now" | "refuses" | "hangs" | "is-gone";

/** A way and the real service at its other end. */
export interface WayUnderTest {
  /** @param patience milliseconds that the far side may take */
  way(patience: number): Way;
  /** @returns once it is so */
  next(far: FarSide): Promise<void> | void;
  /** Messages that were taken, with the names of their headers where the way has any. */
  taken(): readonly TakenMessage[];
  /** What was given to the way and must never be told. */
  readonly secrets: readonly string[];
  /** Next time the far side asks to be left alone for 37 s; left out where it cannot say such. */
  askFor37Seconds?(): void;
  stop(): Promise<void>;
}

export interface TakenMessage {
  readonly key: string;
  readonly text: string;
  readonly headerNames: readonly string[];
}

export const ALARM: PhoneMessage = {
  key: "AbCd-_0123456789AbCd-_0123456789",
  person: "Ellen",
  boat: "Hazel Comfort",
  priority: "alarm",
  about: "raised",
  text: "Hazel Comfort, ALARM: port oil pressure 11 psi at 1,800 rpm, limit 18 psi, since 14:31. " +
    "Bring that engine to idle – and look at the helm gauge: 160 °F.",
  signal: "engine/port/oil-pressure",
  answers: [
    { action: "have-it", words: "I have it", address: "https://boat.example/answer/one" },
    { action: "acknowledge", words: "I know of it", address: "https://boat.example/answer/two" },
  ],
  time: parseIsoTime("2026-06-14T13:31:20Z") ?? 0,
};

/** Ends headers in every way that is known, and quotes, braces and form fields. */
const NASTY = `\r\nX-Injected: yes\r\n\r\nBcc: a@b.example\nTo: c@d.example\u0000"}&x=1{title}`;

const never = new AbortController().signal;
const LONG_MS = 20_000;

/** What every way to a phone must do, whatever carries it. */
export function describeWay(
  name: string,
  open: () => WayUnderTest | Promise<WayUnderTest>,
  canAskToWait = true,
): void {
  let under: WayUnderTest | undefined;
  const opened = async () => under = await open();
  afterEach(async () => {
    await under?.stop();
    under = undefined;
  });

  describe(`${name}, as every way`, () => {
    test("brings a message with its text and its key", async () => {
      const { way, taken } = await opened();
      expect(await way(LONG_MS).send(ALARM, never)).toEqual({ kind: "accepted" });
      const [{ key, text }, ...others] = taken();
      expect(others).toEqual([]);
      expect(key).toBe(ALARM.key);
      expect(text).toContain("ort oil pressure 11 psi at 1,800 rpm, limit 18 psi, since 14:31.");
      expect(text).toContain("idle – and look at the helm gauge: 160 °F.");
    });

    test("is to be tried again after a “not now”, and then has the same key", async () => {
      const { way, taken, next } = await opened();
      const same = way(LONG_MS);
      await next("not-now");
      expect(await same.send(ALARM, never)).toMatchObject({ kind: "try-again" });
      expect(await same.send(ALARM, never)).toEqual({ kind: "accepted" });
      expect(taken().map(({ key }) => key)).toEqual([ALARM.key]);
    });

    test("is refused for good where the far side says so", async () => {
      const { way, next } = await opened();
      await next("refuses");
      expect(await way(LONG_MS).send(ALARM, never)).toMatchObject({ kind: "refused" });
    });

    test("is to be tried again where nobody answers in time, and says so", async () => {
      const { way, next } = await opened();
      await next("hangs");
      const outcome = await way(50).send(ALARM, never);
      expect(outcome).toMatchObject({ kind: "try-again" });
      expect(JSON.stringify(outcome)).toContain("took too long to answer");
    });

    test("is to be tried again where nobody is there, and says so", async () => {
      const { way, next } = await opened();
      await next("is-gone");
      const outcome = await way(LONG_MS).send(ALARM, never);
      expect(outcome).toMatchObject({ kind: "try-again" });
      expect(JSON.stringify(outcome)).toContain("cannot be reached");
    });

    test("ends a try at once when it is cut, though the far side hangs", async () => {
      const { way, next } = await opened();
      await next("hangs");
      const cut = new AbortController();
      const sent = way(LONG_MS).send(ALARM, cut.signal);
      cut.abort();
      expect(await sent).toMatchObject({ kind: "try-again" });
    });

    test("does not begin a try that is cut already", async () => {
      const { way, taken } = await opened();
      expect(await way(LONG_MS).send(ALARM, AbortSignal.abort())).toMatchObject({
        kind: "try-again",
      });
      expect(taken()).toEqual([]);
    });

    test.each<FarSide>(["not-now", "refuses", "is-gone"])(
      "tells no secret when the far side %s",
      async (far) => {
        const { way, next, secrets } = await opened();
        await next(far);
        const outcome = JSON.stringify(await way(LONG_MS).send(ALARM, never));
        for (const secret of secrets) expect(outcome).not.toContain(secret);
      },
    );

    test("lets no name and no text become a header or another message", async () => {
      const { way, taken } = await opened();
      await way(LONG_MS).send(ALARM, never);
      const nasty = {
        ...ALARM,
        person: `Ellen${NASTY}`,
        boat: `Hazel${NASTY}`,
        text: `Hazel${NASTY}, ALARM: ${NASTY}. ${NASTY}`,
      };
      expect(await way(LONG_MS).send(nasty, never)).toEqual({ kind: "accepted" });
      const [good, bad, ...others] = taken();
      expect(others).toEqual([]);
      expect(bad.headerNames).toEqual(good.headerNames);
      expect(bad.key).toBe(ALARM.key);
    });

    if (!canAskToWait) return;
    test("waits as long as it is asked to", async () => {
      const { way, askFor37Seconds } = await opened();
      askFor37Seconds?.();
      expect(await way(LONG_MS).send(ALARM, never)).toMatchObject({
        kind: "try-again",
        after: 37 * SECOND,
      });
    });
  });
}

/** Microseconds, as ways want them. */
export function micros(milliseconds: number): number {
  return milliseconds * MILLISECOND;
}
