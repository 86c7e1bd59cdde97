/** A rule file with one rule, `it`, of the priority warning. @param more lines of that rule */
export function oneRule(each: string, test: string, more = ""): string {
  return `
alarms:
  - tag: it
    title: It
    ${each === "" ? "" : `each: ${each}`}
    ${test}
    priority: warning
    ${more}
`;
}
