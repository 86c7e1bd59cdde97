/** A file that the browser gets as it is. */
export interface Asset {
  readonly type: string;
  readonly text: string;
}

const [STYLE, SCRIPT] = ["text/css; charset=utf-8", "text/javascript; charset=utf-8"];

const TYPES: Readonly<Record<string, string>> = {
  "colours.css": STYLE,
  "page.css": STYLE,
  "lists.css": STYLE,
  "forms.css": STYLE,
  "page.js": SCRIPT,
  "ago.js": SCRIPT,
  "light.js": SCRIPT,
  "forms.js": SCRIPT,
  "this-phone.js": SCRIPT,
  "service-worker.js": SCRIPT,
  "mark.svg": "image/svg+xml",
  "manifest.json": "application/manifest+json",
};

/** Reads the files of `browser/`, by name. */
export async function readAssets(): Promise<ReadonlyMap<string, Asset>> {
  const assets = new Map<string, Asset>();
  for (const [name, type] of Object.entries(TYPES)) {
    const text = await Deno.readTextFile(new URL(`browser/${name}`, import.meta.url));
    assets.set(name, { type, text });
  }
  return assets;
}
