import { expect, test } from "vitest";
import { signalWords } from "./signal-words.ts";

test.each([
  ["engine/port/oil-pressure", "port oil pressure"],
  ["battery/house/voltage", "house battery voltage"],
  ["engine/0/speed", "engine 0 speed"],
  ["engine/can0-0/oil-pressure", "engine can0-0 oil pressure"],
  ["tank/fuel-0/level", "fuel 0 tank level"],
  ["sea/temperature", "sea temperature"],
])("%s is called %s", (name, words) => {
  expect(signalWords(name)).toBe(words);
});
