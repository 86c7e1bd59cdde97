import type { Visitor } from "./access/role.ts";

const EMPTY = `name="token" value=""`;

/**
 * Puts a visitor's own token into every form of a page. It is left out of the parts themselves,
 * which all visitors share; a script puts it into forms that come later.
 */
export function fillToken(page: string, { formToken }: Visitor): string {
  return page.replaceAll(EMPTY, `name="token" value="${formToken}"`);
}
