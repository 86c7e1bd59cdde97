import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { changeBetween, type PageChange, type Part, writePart } from "./part.ts";

function part(id: string, text: string, children: Part[] = [], heard?: number): Part {
  return { id, before: `<${id} ${text}>`, children, heard, after: `</${id}>` };
}

describe("the change between two pages", () => {
  test("is empty where nothing changed", () => {
    const page = () => part("main", "", [part("a", "1"), part("b", "2", [], 5000)]);
    expect(changeBetween(page(), page())).toEqual({ replaced: {}, ordered: {}, heard: {} });
  });

  test("carries only the piece that changed", () => {
    const before = part("main", "", [part("a", "1"), part("b", "2")]);
    const after = part("main", "", [part("a", "1"), part("b", "3")]);
    expect(changeBetween(before, after)).toEqual({
      replaced: { b: "<b 3></b>" },
      ordered: {},
      heard: {},
    });
  });

  test("carries a number where only the time last heard moved on", () => {
    const before = part("main", "", [part("a", "1", [], 1000)]);
    const after = part("main", "", [part("a", "1", [], 2000)]);
    expect(changeBetween(before, after)).toEqual({ replaced: {}, ordered: {}, heard: { a: 2000 } });
  });

  test("moves pieces that are known and sends the HTML only of new ones", () => {
    const before = part("main", "", [part("a", "1"), part("b", "2")]);
    const after = part("main", "", [part("b", "2"), part("c", "3"), part("a", "1")]);
    expect(changeBetween(before, after).ordered).toEqual({
      main: [{ id: "b" }, { id: "c", html: "<c 3></c>" }, { id: "a" }],
    });
  });

  test("makes the old page into the new one, whatever they are", () => {
    fc.assert(fc.property(pages, pages, (before, after) => {
      const made = apply(changeBetween(before, after), before);
      expect(writePart(made)).toBe(writePart(after));
    }));
  });
});

/** Pages of a few lists, whose pieces come, go, move and change. */
const pieces = fc.uniqueArray(
  fc.record({ id: fc.nat(5), text: fc.nat(2), heard: fc.option(fc.nat(2), { nil: undefined }) }),
  { selector: ({ id }) => id },
);
const pages: fc.Arbitrary<Part> = fc.uniqueArray(
  fc.record({ id: fc.nat(3), text: fc.nat(1), pieces }),
  { selector: ({ id }) => id },
).map((lists) =>
  part(
    "main",
    "",
    lists.map(({ id, text, pieces }) =>
      part(
        `list-${id}`,
        `${text}`,
        pieces.map((piece) => part(`p-${id}-${piece.id}`, `${piece.text}`, [], piece.heard)),
      )
    ),
  )
);

/** Does to a tree what a browser does to its page: a replaced piece is known by its HTML only. */
function apply(change: PageChange, page: Part): Part {
  const whole = (id: string, html: string): Part => ({ id, before: html, children: [], after: "" });
  const replace = (old: Part): Part => {
    const html = change.replaced[old.id];
    return html === undefined
      ? { ...old, children: old.children.map(replace) }
      : whole(old.id, html);
  };
  const order = (old: Part): Part => {
    const known = new Map(old.children.map((child) => [child.id, child]));
    const children =
      change.ordered[old.id]?.map(({ id, html }) =>
        html === undefined ? known.get(id) ?? whole(id, "lost") : whole(id, html)
      ) ?? old.children;
    return { ...old, children: children.map(order) };
  };
  const hear = (old: Part): Part => ({
    ...old,
    heard: change.heard[old.id] ?? old.heard,
    children: old.children.map(hear),
  });
  return hear(order(replace(page)));
}
