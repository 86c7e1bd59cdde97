import { expect, test } from "vitest";
import { boatWith } from "../../../tests/support/hand-made-boat.ts";
import { otherBoatWords } from "./other-boat.ts";

const truths = ["port", "starboard", "boat", "port"].map((subject) => ({
  name: "oil-lost",
  subject,
  began: 0,
}));
const engine = (name: string) => ({ group: "engine", name });

test("a boat file that names all to which something happens is the right one", () => {
  const boat = boatWith([engine("port"), engine("starboard")]);
  expect(otherBoatWords(boat, [...truths, null])).toBeNull();
});

test("of another boat it is told what has no name, and on how many trips that counts", () => {
  expect(otherBoatWords(boatWith([engine("starboard")]), [...truths, null]))
    .toContain("has nothing called port, and on 2 of 5 trips it is that");
  expect(otherBoatWords(boatWith([engine("main")]), truths))
    .toContain("has nothing called port or starboard, and on 3 of 4 trips");
});
