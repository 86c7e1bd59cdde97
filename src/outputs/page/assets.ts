/** A file that the browser gets as it is. */
export interface Asset {
  readonly type: string;
  readonly text: string;
}

const TYPES: Readonly<Record<string, string>> = {
  "colours.css": "text/css; charset=utf-8",
  "page.css": "text/css; charset=utf-8",
  "lists.css": "text/css; charset=utf-8",
  "page.js": "text/javascript; charset=utf-8",
  "ago.js": "text/javascript; charset=utf-8",
  "light.js": "text/javascript; charset=utf-8",
  "mark.svg": "image/svg+xml",
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
