import { z } from "zod";
import {
  BOAT_CONDITIONS,
  BOAT_SAYINGS,
  type BoatCondition,
  type BoatSaying,
} from "../../../boat/boat-state.ts";
import { markup } from "../markup.ts";
import { leaf, type Part } from "../part.ts";
import type { Role } from "../access/role.ts";

z.config({ jitless: true });

const form = z.object({ condition: z.enum(BOAT_SAYINGS) });

/** What a form that a browser sent says of the boat, or undefined where it says nothing. */
export function readConditionForm(given: unknown): BoatSaying | undefined {
  return form.safeParse(given).data?.condition;
}

const WORDS: Readonly<Record<BoatCondition, string>> = {
  "aboard": "Somebody is aboard.",
  "left": "The boat is left: nobody is aboard.",
  "anchored": "The boat lies at anchor, and somebody is aboard.",
  "laid-up": "The boat is laid up: nobody is aboard.",
};
const NEVER_SAID = "Nobody has said whether somebody is aboard, so she counts as left.";

const WINTERISED = "She is winterised, so nobody is told of frost.";

const BUTTONS: Readonly<Record<BoatSaying, string>> = {
  "aboard": "Aboard",
  "left": "Left",
  "anchored": "At anchor",
  "laid-up": "Laid up",
  "winterised": "Winterised",
  "not-winterised": "No longer winterised",
};

/** Who is aboard, as rules and messages take it, and the buttons that say otherwise. */
export function conditionPart(
  condition: BoatCondition | null,
  isWinterised: boolean,
  role: Role,
): Part {
  const aboard = condition === null ? NEVER_SAID : WORDS[condition];
  const words = isWinterised ? `${aboard} ${WINTERISED}` : aboard;
  const sayings: readonly BoatSaying[] = [
    ...BOAT_CONDITIONS.filter((one) => one !== condition),
    isWinterised ? "not-winterised" : "winterised",
  ];
  const buttons = sayings.map((one) =>
    markup`<button id="condition-${one}" name="condition" value="${one}">${BUTTONS[one]}</button>
`
  );
  if (role === "watch") return leaf("condition", markup`<p id="condition">${words}</p>`);
  return leaf(
    "condition",
    markup`<details id="condition"><summary>${words} Change</summary>
<form method="post" action="condition"><input type="hidden" name="token" value="">
${buttons}</form></details>`,
  );
}
