// What a push should pass in under a minute: types, style, dead exports, and the tests that the change touches.
// As a hook: git config core.hooksPath .ci/hooks
import { spawnSync } from "node:child_process";

const npm = (...args) => spawnSync("npm", ["run", "--silent", ...args], { stdio: "inherit", shell: process.platform === "win32" }).status;
const vitest = ["node_modules/vitest/vitest.mjs", "run", "--config", "tests/vitest.config.ts", "--changed", "origin/HEAD"];

const failed =
  npm("check") || npm("dead") || spawnSync(process.execPath, [...vitest, "--exclude", "tests/browser/**"], { stdio: "inherit" }).status;
process.exitCode = failed ?? 1;
