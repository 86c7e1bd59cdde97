import { test } from "vitest";
import { holdSeason } from "../support/season-health.ts";

test("the health of a whole season is what one counts by hand", async () => {
  await holdSeason(60);
});
