import { SECOND } from "../../ground/time.ts";
import { recommend } from "./recommend.ts";
import type { Tallies } from "./tally.ts";
import { adviceWords, median } from "./tuning-lines.ts";

/**
 * A sweep as data, for programs: delays in seconds. What needs expectations is null where no
 * recording says what is right. Keys are stable (`tests/contracts/rehearsal/results.jsonl`).
 */
export function tuningObject(tallies: Tallies): unknown {
  const { sweep, results, judged, expected } = tallies;
  const isJudged = judged > 0;
  const advice = expected > 0 ? recommend(results) : null;
  const labelOf = (place: number) => sweep.variants[place].label;
  return {
    "tuning": {
      "tried": sweep.text,
      "tag": sweep.rule.tag,
      "recordings-judged": judged,
      "alarms-expected": expected,
      "values": sweep.variants.map(({ label, isWritten }, i) => {
        const { alarms, wrong, missed, delays } = results[i];
        return {
          "value": label,
          alarms,
          "false": isJudged ? wrong : null,
          "missed": isJudged ? missed : null,
          "median-delay": delays.length === 0 ? null : median(delays) / SECOND,
          "as-it-is-now": isWritten,
        };
      }),
      "recommended": advice?.kind === "middle" ? labelOf(advice.at) : null,
      "good-from": advice === null || advice.kind === "none" ? null : labelOf(advice.from),
      "good-to": advice === null || advice.kind === "none" ? null : labelOf(advice.to),
      "advice": adviceWords(tallies),
    },
  };
}
