import { expect, test } from "vitest";
import { PACK_NAMES, packText } from "../support/pack-rehearsal.ts";

/** Common practice, makers' manuals, judgement. */
const BASIS = /\b(CP|M|J)\b/;
/** What a rule gives a number for. */
const GIVES =
  /(setpoint|deadband|delay|within|held|limit|at-least|at-most|over|under|rise|fall|usual|radius|fix-error|rest|unanswered):[^#]*\d/;

/** Numbers of a pack whose basis stands neither on their line nor right above it. */
function withoutBasis(text: string): string[] {
  const lines = text.split("\n");
  const isComment = (line: string) => line.trimStart().startsWith("#");
  const indent = (line: string) => line.length - line.trimStart().length;
  /** The comment that ends right above a line, or above the line that the line is a part of. */
  const above = (at: number): string => {
    let i = at - 1;
    while (i >= 0 && !isComment(lines[i]) && !/^\s*- tag:/.test(lines[i])) {
      const isParent = indent(lines[i]) < indent(lines[at]);
      if (isParent && BASIS.test(lines[i].split("#")[1] ?? "")) return lines[i];
      i--;
    }
    let comment = "";
    if (i >= 0 && /^\s*- tag:/.test(lines[i])) i--;
    for (; i >= 0 && isComment(lines[i]); i--) comment += lines[i];
    return comment;
  };
  return lines.filter((line, at) =>
    !isComment(line) && GIVES.test(line) && !BASIS.test(line.split("#")[1] ?? "") &&
    !BASIS.test(above(at))
  );
}

test.each(PACK_NAMES)("%s says beside each of its numbers where it comes from", (name) => {
  expect(withoutBasis(packText(name))).toEqual([]);
});

test("a number without a basis is found", () => {
  const rule = "alarms:\n  - tag: hot\n    high: { signal: temperature, setpoint: 90 °C }\n";
  expect(withoutBasis(rule)).toHaveLength(1);
  expect(withoutBasis(rule.replace(" }\n", " } # CP\n"))).toEqual([]);
});
