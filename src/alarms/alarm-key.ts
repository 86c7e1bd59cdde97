/** What tells one alarm from all others. */
export function keyOf(
  { tag, subject }: { readonly tag: string; readonly subject: string },
): string {
  return `${tag}/${subject}`;
}
