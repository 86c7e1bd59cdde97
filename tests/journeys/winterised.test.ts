import { expect, test } from "vitest";
import { partOf } from "../../src/bus/frame-batch.ts";
import { SECOND } from "../../src/ground/time.ts";
import { Watch } from "../../src/watch.ts";
import { boatFrom, packRules } from "../support/pack-rehearsal.ts";
import { tags } from "../support/rings.ts";
import { SpokenRecording } from "../support/spoken-recording.ts";

const MINUTE = 60;
const HOUR = 60 * MINUTE;

test("a cold cabin is told of, not while the boat is winterised, and again when she no longer is", () => {
  const winter = new SpokenRecording();
  for (let at = 0; at < 5 * HOUR; at += 2) {
    winter.say(at, 130312, { instance: 0, place: "inside", temperature: 275.15 });
  }
  const { batch, buses } = winter.frames;
  const watch = new Watch({
    boat: boatFrom("temperatures: { saloon: { place: inside, instance: 0 } }\n"),
    rules: packRules(["cabin"]),
    busNames: buses,
    boatState: { condition: "laid-up", winterised: false },
  });
  let fed = 0;
  const until = (seconds: number): string[] => {
    while (fed < batch.count && batch.times[fed] < winter.begins + seconds * SECOND) {
      watch.feed(partOf(batch, fed, fed + 1));
      fed += 1;
    }
    return tags(watch.takeChanges());
  };

  // Laid up is not winterised: she may lie afloat with water in her pipes.
  expect(until(40 * MINUTE)).toEqual(["cabin-cold saloon unacknowledged"]);
  watch.answer({
    ...{ kind: "acknowledge", tag: "cabin-cold", subject: "saloon", occurrence: 1, who: "Ann" },
  });
  watch.takeChanges();
  watch.setCondition("winterised");
  expect(until(3 * HOUR)).toEqual(["cabin-cold saloon normal"]);
  watch.setCondition("not-winterised");
  expect(until(4 * HOUR)).toEqual(["cabin-cold saloon unacknowledged"]);
});
