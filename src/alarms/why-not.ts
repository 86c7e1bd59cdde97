import type { Micros } from "../ground/time.ts";
import { sayDuration } from "../units/duration.ts";
import type { Alarm } from "./alarm.ts";
import type { Explanation } from "./explanation.ts";

/** Why an alarm did not come. */
export interface WhyNot {
  readonly tag: string;
  readonly subject: string;
  readonly kind:
    | "raised"
    | "no-such-alarm"
    | "held-back"
    | "not-judged"
    | "never-past-its-limit"
    | "not-watching"
    | "suppressed"
    | "covered"
    | "too-short";
  /** One sentence. */
  readonly sentence: string;
  /** Wall time at which it came nearest; null where there is none. */
  readonly at: Micros | null;
  /** As the rule stands now; null where there is no such alarm. */
  readonly explanation: Explanation | null;
}

/**
 * @param unjudged why the rule is not judged now; empty when it is
 * @param explanation as it stands now
 */
export function whyNotOf(alarm: Alarm, unjudged: string, explanation: Explanation): WhyNot {
  const { tag, subject, rule, life, nearMisses: { miss } } = alarm;
  const say = (kind: WhyNot["kind"], at: Micros | null, sentence: string): WhyNot => ({
    ...{ tag, subject, kind, sentence, at, explanation },
  });
  if (life.state.occurrence > 0) {
    return say("raised", alarm.raisedAt, `It came: it was raised ${life.state.occurrence} times.`);
  }
  if (life.hold.kind === "shelved" || life.hold.kind === "out-of-service") {
    return say("held-back", null, `It is ${life.hold.kind.replaceAll("-", " ")}.`);
  }
  if (miss.active === null) {
    return unjudged === "" || unjudged === "not watching"
      ? say("never-past-its-limit", null, "Its test was never past its limit while it was known.")
      : say("not-judged", null, `It cannot be judged: ${unjudged}.`);
  }
  if (miss.brokenOff !== null) {
    return say(
      "too-short",
      miss.brokenOff,
      `It held for ${sayDuration(miss.longest)} at most; its on-delay is ${
        sayDuration(rule.onDelay)
      }.`,
    );
  }
  if (miss.covered !== null) {
    return say("covered", miss.covered, "Another alarm that was present covered it.");
  }
  if (miss.suppressed !== null) {
    return say(
      "suppressed",
      miss.suppressed,
      "It was past its limit while its own rule held it back.",
    );
  }
  if (miss.unwatched !== null) {
    return say(
      "not-watching",
      miss.unwatched,
      "It was past its limit while the rule did not watch.",
    );
  }
  return say("too-short", miss.active, `Its on-delay of ${sayDuration(rule.onDelay)} still runs.`);
}
