// The scripts of package.json must run on every system: npm passes them to sh on Linux and macOS, and to cmd.exe on
// Windows. Windows and macOS are not tested here; this test excludes what is known to fail there.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";

const { scripts } = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8")) as {
  scripts: Record<string, string>;
};

/** Programs with which a script may begin: Node, npm, and those that npm ci installs. */
const PROGRAMS = new Set(["node", "npm", "npx", "tsc", "biome", "vitest", "knip", "typedoc", "publint"]);

test.each(Object.entries(scripts))("%s: %s", (_, script) => {
  // cmd.exe supports && and double quotes, but no sh variables, single quotes, background jobs or pipes into Unix tools.
  expect(script).not.toMatch(/[$;`'\\]|(?<!&)&(?!&)|\|/);
  for (const step of script.split("&&")) {
    const [program] = step.trim().split(/\s+/);
    expect(PROGRAMS.has(program!) ? "" : `${program} is not on every system`).toBe("");
  }
});
