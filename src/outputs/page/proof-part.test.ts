import { expect, test } from "vitest";
import { type Micros, parseIsoTime } from "../../ground/time.ts";
import { writePart } from "./part.ts";
import { proofPart } from "./proof-part.ts";

const at = (iso: string): Micros => parseIsoTime(iso) ?? 0;
const FLOAT = {
  title: "High water in the bilge",
  about: "aft",
  sounded: at("2026-05-14T10:00:00Z"),
  due: at("2026-11-13T10:00:00Z"),
};
const OIL = { title: "Low oil", about: "", sounded: null, due: at("2026-09-30T10:00:00Z") };

const shown = (now: string) =>
  writePart(proofPart([OIL, FLOAT], { now: at(now), timeZone: "Europe/London" }))
    .replaceAll(/<[^>]+>/g, "");

test("each alarm has the day on which it sounded, and the day by which it wants to be tried", () => {
  const page = shown("2026-06-01T10:00:00Z");
  expect(page).toContain("None of 2 wants to be tried yet.");
  expect(page).toContain("Low oil never heard; try it by 30 September 2026");
  expect(page).toContain(
    "High water in the bilge, aft sounded 14 May 2026; try it by 13 November 2026",
  );
});

test("once a season has passed it says so", () => {
  const page = shown("2026-10-01T10:00:00Z");
  expect(page).toContain("To be tried now: 1 of 2.");
  expect(page).toContain("Low oil never heard; try it now");
});
