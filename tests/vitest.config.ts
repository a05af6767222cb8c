import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
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
