import { expect, test } from "vitest";
import { writePart } from "../part.ts";
import { conditionPart, readConditionForm } from "./condition-form.ts";

const shown = (...given: Parameters<typeof conditionPart>) => writePart(conditionPart(...given));

test("who is aboard is said, with a button for everything else that can be said", () => {
  const page = shown("laid-up", false, "act");
  expect(page).toContain("The boat is laid up: nobody is aboard.");
  expect(page).toContain('value="aboard"');
  expect(page).toContain(">Winterised</button>");
  expect(page).not.toContain('value="laid-up"');
  expect(page).not.toContain('value="not-winterised"');
});

test("that she is winterised stands beside it, for as long as it does", () => {
  const page = shown("laid-up", true, "act");
  expect(page).toContain("She is winterised, so nobody is told of frost.");
  expect(page).toContain('value="not-winterised"');
  expect(shown("laid-up", true, "watch")).not.toContain("<button");
});

test("a form says one of these words, or nothing", () => {
  expect(readConditionForm({ condition: "winterised" })).toBe("winterised");
  expect(readConditionForm({ condition: "aboard" })).toBe("aboard");
  expect(readConditionForm({ condition: "frozen" })).toBeUndefined();
});
