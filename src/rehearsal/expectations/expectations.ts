import type { Rule } from "../../alarms/rules/rule.ts";
import type { Place } from "../../ground/problem.ts";
import type { ExpectedTime } from "./expected-time.ts";

/** What one recording must bring: `NAME.expect.yaml` (contract §2). */
export interface Expectations {
  readonly marks: readonly Mark[];
  readonly alarms: readonly ExpectedAlarm[];
  /** Tags that must not be raised for any subject, each where it is written. */
  readonly never: readonly { readonly tag: string; readonly place: Place }[];
  /** Whether alarms that nothing here speaks of are allowed. */
  readonly anythingElse: boolean;
}

/** One raising that must come. */
export interface ExpectedAlarm {
  readonly tag: string;
  readonly subject: string;
  readonly raised: Window;
  /** When its condition must be over, the off-delay included; null: whenever, or never. */
  readonly returned: Window | null;
  readonly place: Place;
}

/** Both ends belong to it. */
export interface Window {
  readonly from: ExpectedTime;
  readonly to: ExpectedTime;
  readonly place: Place;
}

/** An instant of the recording that has a name. It is found by a rule that nobody is told of. */
export interface Mark {
  readonly name: string;
  /** For a sentence: `engine/port/speed over 500 rpm`. */
  readonly words: string;
  readonly rule: Rule;
  readonly place: Place;
}
