// Prints the tally as the last line of a test run: "123 passed, 0 failed".
import type { Reporter, TestModule, TestRunEndReason } from "vitest/node";

/** Vitest reporter. A file that cannot be loaded, or an error outside any test, counts as one failure. */
export default class LastLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[], reason: TestRunEndReason): void {
    let passed = 0;
    let failed = errors.length;
    for (const module of modules) {
      let ran = 0;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state === "passed") passed++;
        else if (state === "failed" || state === "pending") failed++;
        ran++;
      }
      if (module.errors().length > 0 || (ran === 0 && module.state() === "failed")) failed++;
    }
    if (reason !== "passed" && failed === 0) failed = 1;
    // The default reporter prints its summary in the same tick; print this line after it.
    process.once("exit", () => process.stdout.write(`${passed} passed, ${failed} failed\n`));
  }
}
