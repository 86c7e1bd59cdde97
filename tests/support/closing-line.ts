import type { Reporter, TestModule } from "vitest/node";

/** Ends every run with one line that a person and a program can read: `N passed, N failed`. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    let [passed, failed, skipped] = [0, errors.length, 0];
    for (const module of modules) {
      let tests = 0;
      for (const test of module.children.allTests()) {
        tests++;
        const { state } = test.result();
        if (state === "passed") passed++;
        else if (state === "failed") failed++;
        else skipped++;
      }
      // A file that could not even be read has no tests to fail.
      if (tests === 0 && module.state() === "failed") failed++;
    }
    const rest = skipped > 0 ? `, ${skipped} skipped` : "";
    const line = `${passed} passed, ${failed} failed${rest}\n`;
    Deno.stdout.writeSync(new TextEncoder().encode(line));
  }
}
