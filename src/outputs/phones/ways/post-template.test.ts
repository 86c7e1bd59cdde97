import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { PhoneMessage } from "../way.ts";
import {
  fillBody,
  fillHeader,
  isJson,
  isJsonTemplate,
  PLACEHOLDERS,
  unknownPlaceholder,
} from "./post-template.ts";

/** Control characters, halves of pairs and all. */
const anyCharacter = fc.nat(0xffff).map((code) => String.fromCharCode(code));

const FORM = "application/x-www-form-urlencoded";

function message(text: string, boat = "Hazel Comfort"): PhoneMessage {
  return {
    key: "k".repeat(32),
    person: "Ellen",
    boat,
    priority: "alarm",
    about: "raised",
    text,
    signal: "",
    answers: [{
      action: "have-it",
      words: "I have it",
      address: "https://boat.example/answer/a?b",
    }],
    time: 0,
  };
}

describe("a body", () => {
  const all = PLACEHOLDERS.map((name) => `{${name}}`).join("|");

  test("has every placeholder filled", () => {
    expect(fillBody(all, "text/plain", message("Hazel Comfort, ALARM: oil."))).toBe(
      "Hazel Comfort, ALARM|Hazel Comfort, ALARM: oil.|Hazel Comfort|alarm|" +
        `${"k".repeat(32)}|Ellen|https://boat.example/answer/a?b`,
    );
  });

  test("has nothing for a link where there is no way to answer", () => {
    expect(fillBody("<{link}>", "text/plain", { ...message(""), answers: [] })).toBe("<>");
  });

  test("does not fill what a message itself has in braces", () => {
    expect(fillBody("{text}", "text/plain", message("{boat}"))).toBe("{boat}");
  });

  test("is sound JSON that says just this, whatever is to be said", { timeout: 60_000 }, () => {
    const template = '{"a": "{text}", "b": ["{boat}", {"c": "x {text} x"}]}';
    fc.assert(fc.property(fc.string({ unit: anyCharacter }), fc.string(), (text, boat) => {
      const body = fillBody(template, "application/json; charset=utf-8", message(text, boat));
      expect(JSON.parse(body)).toEqual({ a: text, b: [boat, { c: `x ${text} x` }] });
    }));
  });

  test("is a form with just these fields, whatever is to be said", { timeout: 60_000 }, () => {
    fc.assert(fc.property(fc.string({ unit: "grapheme" }), (text) => {
      const form = new URLSearchParams(fillBody("to=1&message={text}", FORM, message(text)));
      expect([...form]).toEqual([["to", "1"], ["message", text]]);
    }));
  });
});

test("a header is one line of ASCII, whatever is to be said", { timeout: 60_000 }, () => {
  expect(fillHeader("Boat: {text}", message("Élan at 160 °F – now …"))).toBe(
    "Boat: Elan at 160 F  now ...",
  );
  fc.assert(fc.property(fc.string({ unit: anyCharacter }), (text) => {
    expect(fillHeader("<{text}>", message(text))).toMatch(/^<[\x20-\x7e]*>$/);
  }));
});

test("a header is one line of ASCII also where the owner's own text is not", () => {
  expect(fillHeader("Łódź\n{boat}", message(""))).toMatch(/^[\x20-\x7e]*Hazel Comfort$/);
});

describe("a template", () => {
  test("with a text in braces that stands for nothing is found out", () => {
    expect(unknownPlaceholder("{title} {txet}")).toEqual({ found: "{txet}", nearest: "{text}" });
    expect(unknownPlaceholder("{colour}")).toEqual({ found: "{colour}", nearest: undefined });
    expect(unknownPlaceholder('{ "message": "{text}", "more": {} }')).toBeUndefined();
  });

  test("is JSON for certain only where placeholders stand inside quotes", () => {
    expect(isJsonTemplate('{ "message": "{text}" }')).toBe(true);
    expect(isJsonTemplate('{ "message": {text} }')).toBe(false);
    expect(isJsonTemplate('{ "message": "{text}"')).toBe(false);
  });

  test.each([
    ["application/json", true],
    ["Application/JSON; charset=utf-8", true],
    ["application/problem+json", true],
    ["text/json-ish", false],
    [FORM, false],
  ])("of media type %s is JSON: %s", (type, expected) => {
    expect(isJson(type)).toBe(expected);
  });
});
