import { test } from "vitest";
import { hasMosquitto } from "../support/mosquitto.ts";
import { killRunAgainAndAgain } from "../support/run-killings.ts";
import { expectAllAshore } from "../support/all-ashore.ts";

test.skipIf(!hasMosquitto())(
  "run killed at ten random moments: every event is ashore once and in order, and every minute",
  { timeout: 240_000 },
  async () => expectAllAshore(await killRunAgainAndAgain(10, 20_260_614)),
);
