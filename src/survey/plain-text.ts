/** What a device says of itself, on one line of paper: control characters become "·". */
export function plainText(text: string): string {
  return text.replaceAll(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu, "·").trim();
}
