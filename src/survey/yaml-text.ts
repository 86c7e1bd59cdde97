/** In quotes, as YAML and JSON both read it. */
export function quoted(text: string): string {
  return /^[a-z][a-z0-9]*$/.test(text) ? text : JSON.stringify(text);
}
