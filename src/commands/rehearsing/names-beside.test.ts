import { expect, test } from "vitest";
import { draftPlace, expectationPlaces } from "./names-beside.ts";

test.each([
  ["trips/start1.log.gz", "trips/start1.expect.yaml"],
  ["trips/trip.2.log.gz", "trips/trip.2.expect.yaml"],
  ["trips/2026-06-14T10-12-03Z.pcapng", "trips/2026-06-14T10-12-03Z.expect.yaml"],
  ["trips.2026/plain", "trips.2026/plain.expect.yaml"],
])("the expectations of %s are drafted in %s", (recording, place) => {
  expect(draftPlace(recording)).toBe(place);
  expect(expectationPlaces(recording)).toContain(place);
});

test("the file with the most of a recording's name counts", () => {
  expect(expectationPlaces("a/trip.2.log").filter((place) => place.endsWith(".yaml"))).toEqual([
    "a/trip.2.log.expect.yaml",
    "a/trip.2.expect.yaml",
    "a/trip.expect.yaml",
  ]);
});
