import { expect, test } from "vitest";
import { markup } from "./markup.ts";

test("what is put into HTML is escaped, in text and in attributes", () => {
  const name = `<b title="x">'&'</b>`;
  expect(markup`<p title="${name}">${name}</p>`.text).toBe(
    `<p title="&lt;b title=&quot;x&quot;&gt;&#39;&amp;&#39;&lt;/b&gt;">` +
      `&lt;b title=&quot;x&quot;&gt;&#39;&amp;&#39;&lt;/b&gt;</p>`,
  );
});

test("HTML within HTML stays as it is, alone or as a list", () => {
  expect(markup`<ul>${[1, 2].map((number) => markup`<li>${number}</li>`)}</ul>`.text)
    .toBe("<ul><li>1</li><li>2</li></ul>");
});
