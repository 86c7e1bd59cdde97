import { expect, test } from "vitest";
import { hasMosquitto } from "../support/mosquitto.ts";
import { killAgainAndAgain } from "../support/killings.ts";

test.skipIf(!hasMosquitto())(
  "killed at a hundred random moments, every event and minute is ashore once and in order",
  async () => {
    const { total, occurrences, minutes } = await killAgainAndAgain(100, 19_700_101);
    expect(occurrences).toEqual(Array.from({ length: total }, (_, i) => i + 1));
    expect(minutes).toEqual(Array.from({ length: minutes.length }, (_, i) => i));
    expect(minutes.length).toBeGreaterThanOrEqual(total);
  },
);
