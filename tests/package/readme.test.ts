// What README.md shows must be true: its files load, its commands and options exist, its marks name real files.
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";

const project = fileURLToPath(new URL("../../", import.meta.url));
const readme = readFileSync(join(project, "README.md"), "utf8");
const blocks = (language: string): string[] =>
  [...readme.matchAll(new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``, "g"))].map((match) => match[1]!);

describe("README", () => {
  test("its scenario loads, alone and with the next block", () => {
    const [short, more] = blocks("yaml");
    for (const text of [short!, `${short}${more}`]) {
      const loaded = loadScenario(text, "README.md");
      expect(loaded.ok ? [] : loaded.errors.map(errorText)).toEqual([]);
    }
  });

  test("every command and option in it exists", () => {
    const known = new Map<string, string>();
    const help = (command: string): string => {
      const run = () =>
        spawnSync(process.execPath, [join(project, "dist/cli.js"), command, "--help"], { encoding: "utf8" }).stdout;
      if (!known.has(command)) known.set(command, run());
      return known.get(command)!;
    };
    const named = [
      ...readme.matchAll(/npx sumpwright ([^\n`#>]+)/g),
      ...readme.matchAll(/^\| `((?:run|check|forecast|fit|plan|size|study|open|new|keys|completion) [^`]+)`/gm),
    ];
    expect(named.length).toBeGreaterThan(15);
    for (const [, line] of named) {
      const [command, ...rest] = line!.trim().split(/\s+/);
      const listed = help(command!);
      expect(listed).toMatch(new RegExp(`^Usage: sumpwright ${command} `));
      for (const option of rest.filter((word) => /^--?[a-z]/.test(word))) expect(listed).toMatch(new RegExp(`${option}[ ,]`));
      for (const file of rest.filter((word) => word.startsWith("scenarios/")))
        expect([file, existsSync(join(project, file))]).toEqual([file, true]);
    }
  });

  test("its examples show real output", () => {
    for (const shown of blocks("text"))
      expect(shown).toMatch(/^\$ npx sumpwright (?:run|fit|plan|size) [^\n]+\n\S[^\n]*\n {2}[A-Z\d]/);
    expect(blocks("text")).toHaveLength(6);
  });

  test("it gives the right number of shipped scenarios", () => {
    const words = ["fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"];
    const count = readdirSync(join(project, "scenarios/shipped")).filter((name) => name.endsWith(".yaml")).length;
    expect(readme).toContain(`\`scenarios/shipped/\` holds ${words[count - 15] ?? count} files`);
  });
});
