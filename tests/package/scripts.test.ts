// The scripts of package.json run on every system: npm hands them to sh on Linux and macOS, and to cmd.exe on Windows. Nobody has tried
// Windows and macOS here; this keeps out what is known to fail there.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";

const { scripts } = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8")) as {
  scripts: Record<string, string>;
};

/** Programs that a script may begin with: Node, npm, and what npm ci puts beside them. */
const PROGRAMS = new Set(["node", "npm", "npx", "tsc", "biome", "vitest", "knip", "typedoc", "publint"]);

test.each(Object.entries(scripts))("%s: %s", (_, script) => {
  // cmd.exe knows && and double quotes; no variables of sh, no single quotes, no background, no pipes into Unix tools.
  expect(script).not.toMatch(/[$;`'\\]|(?<!&)&(?!&)|\|/);
  for (const step of script.split("&&")) {
    const [program] = step.trim().split(/\s+/);
    expect(PROGRAMS.has(program!) ? "" : `${program} is not on every system`).toBe("");
  }
});
