/** Candump lines as the lines of a serial adapter. */
export function serialLine(line: string): string {
  const [, identifier, content] = /([0-9A-F]+)#(.*)/.exec(line) ?? [];
  const long = identifier.length === 8;
  const remote = content.startsWith("R");
  const letter = remote ? "r" : "t";
  const length = remote ? content.slice(1) || "0" : String(content.length / 2);
  return `${long ? letter.toUpperCase() : letter}${identifier}${length}${remote ? "" : content}`;
}
