/** Who does not know a key or lacks one, by the path of the group that holds it. */
export function ownerOf(path: readonly PropertyKey[]): string {
  if (path[0] === "marks" && path.length > 1) return "a mark";
  if (path[0] === "expect" && path.length > 1) return "an expected alarm";
  return "an expectation file";
}
