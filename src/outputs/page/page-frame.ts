import { type Markup, markup, NOTHING } from "./markup.ts";

/**
 * A whole document with our styles and nothing of anybody else.
 * @param facts attributes of the root that scripts read
 */
export function documentOf(title: string, body: Markup, facts: Markup = NOTHING): string {
  return markup`<!doctype html>
<html lang="en"${facts}>
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title}</title>
<link rel="icon" href="/mark.svg" type="image/svg+xml">
<link rel="manifest" href="/manifest.json" crossorigin="use-credentials">
<link rel="stylesheet" href="/colours.css">
<link rel="stylesheet" href="/page.css">
<link rel="stylesheet" href="/lists.css">
<link rel="stylesheet" href="/forms.css">
<script src="/light.js"></script>
<script type="module" src="/page.js"></script>
</head>
<body>
${body}
</body>
</html>
`.text;
}

/** A page with one sentence, for a browser that sent a form and cannot be answered otherwise. */
export function sentenceDocument(title: string, sentence: string, back = "/"): string {
  return documentOf(
    title,
    markup`<main class="short"><h1>${title}</h1>
<p>${sentence}</p>
<p><a href="${back}">Back to the boat</a></p></main>`,
  );
}
