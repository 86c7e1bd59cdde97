import { test } from "vitest";
import { expectAllAshore } from "../support/all-ashore.ts";
import { hasMosquitto } from "../support/mosquitto.ts";
import { killRunAgainAndAgain } from "../support/run-killings.ts";

test.skipIf(!hasMosquitto())(
  "run killed at a hundred random moments: every event is ashore once and in order, and every minute",
  async () => expectAllAshore(await killRunAgainAndAgain(100, 19_700_101)),
);
