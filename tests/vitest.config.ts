import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Files that take longest, so that none of them is left alone at the end. */
const SLOW = ["acceptance/acceptance", "fuzz/fuzz", "consistency/consistency", "browser/shipped", "scenarios/study/queue"];

class SlowFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification): number => {
      const place = SLOW.findIndex((name) => moduleId.includes(`/tests/${name}.`));
      return place < 0 ? SLOW.length : place;
    };
    return (await super.sort(files)).sort((a, b) => rank(a) - rank(b));
  }
}

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    // By default one core is left free, which on two cores means one file at a time.
    maxWorkers: "100%",
    // Test files share the modules of a worker: none changes their state, and compiled code stays warm.
    isolate: false,
    sequence: { sequencer: SlowFirst },
    testTimeout: 180_000,
    hookTimeout: 300_000,
    coverage: {
      provider: "v8",
      include: ["models/**/*.ts", "sim/**/*.ts"],
      reporter: ["text-summary", "text"],
      reportsDirectory: "coverage",
    },
    reporters: ["default", "./tests/last-line.ts"],
  },
});
