import { expect, test } from "vitest";
import { parseIsoTime } from "../../ground/time.ts";
import { answerWords, hail } from "./hail.ts";
import type { PhoneMessage, SendOutcome, Way } from "./way.ts";

const sent: PhoneMessage[] = [];

function way(name: string, outcome: SendOutcome | Error): Way {
  return {
    name,
    send(message) {
      sent.push(message);
      return outcome instanceof Error ? Promise.reject(outcome) : Promise.resolve(outcome);
    },
  };
}

test("every way to every person is tried once, and each answer is told", async () => {
  const answers = await hail({
    people: [
      {
        name: "Ellen",
        ways: [
          way("post", { kind: "accepted" }),
          way("post-2", { kind: "refused", why: "push.example answered 404" }),
        ],
      },
      {
        name: "Tom",
        ways: [
          way("post", { kind: "try-again", why: "sms.example cannot be reached" }),
          way("post-2", new TypeError("https://secret.example/token")),
        ],
      },
      { name: "Ann", ways: [] },
    ],
    boat: "Hazel Comfort",
    timeZone: "Europe/London",
    wall: parseIsoTime("2026-06-15T09:00:00Z") ?? 0,
    cut: new AbortController().signal,
  });
  expect(answers.map(answerWords)).toEqual([
    "Ellen, post: accepted",
    "Ellen, post-2: refused, push.example answered 404",
    "Tom, post: could not be reached, sms.example cannot be reached",
    "Tom, post-2: could not be reached, TypeError",
    "Ann: could not be reached, there is no way to this person",
  ]);
  expect(sent).toHaveLength(4);
  expect(new Set(sent.map(({ key }) => key)).size).toBe(4);
  expect(sent[0].text).toBe(
    "Hazel Comfort: a test, sent at 10:00. Nothing is wrong. " +
      "An alarm would reach you this way too.",
  );
});
