import { test } from "vitest";
import { holdSeason } from "../support/season-health.ts";

test("the health of a short season is what one counts by hand", { timeout: 180_000 }, async () => {
  await holdSeason(3);
});
