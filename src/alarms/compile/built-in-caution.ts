import { type Rule, USUAL_MANNER } from "../rules/rule.ts";

/** A caution that comes with the program: what it is about, and its words. */
export function builtInCaution(
  own: Pick<Rule, "tag" | "title" | "test" | "consequence" | "response">,
): Rule {
  return {
    each: null,
    where: {},
    only: null,
    watchWhile: null,
    suppressedWhile: null,
    covers: [],
    onDelay: 0,
    offDelay: 0,
    priority: "caution",
    ...USUAL_MANNER,
    ...own,
  };
}
