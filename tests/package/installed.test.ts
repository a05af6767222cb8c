// The package as a user gets it: packed, installed into an empty folder without a network, run, and imported by a strict project.
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { publint } from "publint";
import { formatMessage } from "publint/utils";
import { afterAll, beforeAll, describe, expect, test } from "vitest";

const project = fileURLToPath(new URL("../../", import.meta.url));
let folder = "";
const installed = (...path: readonly string[]): string => join(folder, "node_modules/sumpwright", ...path);

interface Lock {
  packages: Record<string, { version: string; dev?: boolean; peer?: boolean; integrity?: string; resolved?: string }>;
}

/** npm: the running one, or the one beside Node. On Windows it is a script for the shell. */
const npm = (args: readonly string[], cwd: string): string =>
  execFileSync("npm", args, { cwd, encoding: "utf8", shell: process.platform === "win32", stdio: ["ignore", "pipe", "pipe"] });

beforeAll(() => {
  if (!existsSync(join(project, "dist/index.d.ts"))) throw new Error("dist/index.d.ts is missing: npm run build makes it");
  folder = mkdtempSync(join(tmpdir(), "sumpwright-package-"));
  // Lifecycle scripts would build it again.
  const packed = JSON.parse(npm(["pack", "--json", "--ignore-scripts", "--pack-destination", folder], project)) as [
    { filename: string; integrity: string; version: string },
  ];
  const [{ filename, integrity, version }] = packed;
  // The packages that npm ci installed for this project are in npm's cache, so a lock file with them needs no network.
  const { packages } = JSON.parse(readFileSync(join(project, "package-lock.json"), "utf8")) as Lock;
  const shipped = Object.entries(packages).filter(([path, entry]) => path !== "" && !entry.dev && !entry.peer);
  const own = JSON.parse(readFileSync(join(project, "package.json"), "utf8")) as { dependencies: Record<string, string> };
  const dependencies = { sumpwright: `file:${filename}` };
  writeFileSync(join(folder, "package.json"), JSON.stringify({ name: "stranger", private: true, type: "module", dependencies }));
  const lock = {
    name: "stranger",
    lockfileVersion: 3,
    requires: true,
    packages: {
      "": { name: "stranger", dependencies },
      "node_modules/sumpwright": {
        version,
        resolved: `file:${filename}`,
        integrity,
        dependencies: own.dependencies,
        bin: { sumpwright: "dist/cli.js" },
      },
      ...Object.fromEntries(shipped),
    },
  };
  writeFileSync(join(folder, "package-lock.json"), JSON.stringify(lock));
  npm(["ci", "--offline", "--no-audit", "--no-fund", "--ignore-scripts"], folder);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const SCENARIO = `sumpwright: 1
name: Packed
tank: { outside: 100 x 40 x 50 cm }
sump: { outside: 60 x 35 x 40 cm, water: 18 cm }
return: { pump: 2000 L/h, outlet: 3 cm }
seed: mature
stock: [{ name: tetras, count: 10, mass: 2 g }]
days: 2
`;

/** The three lines of the README. */
const CHAIN = `
const scenario = load(${JSON.stringify(SCENARIO)}, "packed.yaml");
const result = await run(scenario, { members: 2, threads: 2, matrix: false });
const page = render(result);
`;

describe("what is packed", () => {
  test("contains the program, its types, licences, scenarios and the images of README; no sources and no tests", () => {
    const all = readdirSync(installed(), { recursive: true, encoding: "utf8" }).map((name) => name.replaceAll("\\", "/"));
    for (const name of [
      "LICENSE",
      "CHANGELOG.md",
      "dist/cli.js",
      "dist/index.d.ts",
      "dist/browser.js",
      "dist/THIRD-PARTY.txt",
      "dist/keys.md",
      "dist/keys.md",
    ])
      expect(all).toContain(name);
    expect(all.filter((name) => /\.ts$/.test(name) && !/\.d\.ts$/.test(name))).toEqual([]);
    expect(all.filter((name) => /^tests/.test(name))).toEqual([]);
    const readme = readFileSync(installed("README.md"), "utf8");
    const links = [...readme.matchAll(/\]\((?!https?:|#)([^)\s]+)\)/g)].map((match) => match[1]!);
    expect(links.length).toBeGreaterThan(3);
    expect(links.filter((link) => !all.includes(link))).toEqual([]);
  });

  test("names every bundled package with its licence", () => {
    const notices = readFileSync(installed("dist/THIRD-PARTY.txt"), "utf8");
    for (const name of ["commander", "d3-array", "fflate", "ical-generator", "odex", "seedrandom", "yaml", "zod"])
      expect(notices).toMatch(new RegExp(`^${name} \\d+\\.\\d+\\.\\d+ \\((?:MIT|ISC|BSD-\\d-Clause)\\)$`, "m"));
    expect(notices).toContain("Permission is hereby granted, free of charge");
    expect(notices).toContain("Redistribution and use in source and binary forms");
    expect(notices).not.toMatch(/undefined|UNLICENSED/);
  });

  test("passes a package linter", async () => {
    const { messages, pkg } = await publint({ pkgDir: installed(), pack: false, strict: true });
    expect(messages.map((message) => formatMessage(message, pkg as Parameters<typeof formatMessage>[1]))).toEqual([]);
  });
});

describe("the command", () => {
  test("runs a shipped scenario", () => {
    const version = npm(["exec", "--offline", "--no", "--", "sumpwright", "--version"], folder);
    expect(version).toBe(`${(JSON.parse(readFileSync(join(project, "package.json"), "utf8")) as { version: string }).version}\n`);
    writeFileSync(join(folder, "packed.yaml"), SCENARIO);
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [installed("dist/cli.js"), "run", "packed.yaml", "--runs", "2"],
      {
        cwd: folder,
        encoding: "utf8",
      },
    );
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toMatch(/^Packed\n/);
    const page = readFileSync(join(folder, "out/packed.html"), "utf8");
    expect(page).toContain('<script type="text/plain" id="licences">');
    expect(page).toMatch(/^zod \d+\.\d+\.\d+ \(MIT\)$/m);
  });
});

describe("the library", () => {
  test.each([
    ["NodeNext", "NodeNext"],
    ["ESNext", "Bundler"],
  ])("in an empty strict project: module %s, resolution %s, no other types", (module, moduleResolution) => {
    const own = join(folder, `strict-${moduleResolution}`);
    mkdirSync(own, { recursive: true });
    writeFileSync(join(own, "package.json"), JSON.stringify({ type: "module" }));
    writeFileSync(
      join(own, "tsconfig.json"),
      JSON.stringify({
        compilerOptions: {
          target: "ES2022",
          module,
          moduleResolution,
          strict: true,
          exactOptionalPropertyTypes: true,
          noUncheckedIndexedAccess: true,
          skipLibCheck: false,
          noEmit: true,
          types: [],
        },
      }),
    );
    writeFileSync(
      join(own, "main.ts"),
      `import { load, run, render, csvFiles, RunFailure, ScenarioMistakes } from "sumpwright";
import type { Finding, RunResult, Scenario, ScenarioText } from "sumpwright";
import * as inBrowser from "sumpwright/browser";
${CHAIN}
const finding: Finding | undefined = result.findings[0];
const days: number = scenario.scenario.days;
const text: ScenarioText["name"] = "x";
const again: Promise<RunResult> = inBrowser.run(inBrowser.load("x"), { onProgress: (what, done, of) => \`\${what} \${done} \${of}\` });
try { load("") } catch (error) { if (error instanceof ScenarioMistakes) error.errors.map((e) => e.line); }
// @ts-expect-error a result is no scenario
const wrong: Scenario = result;
export { again, csvFiles, days, finding, page, RunFailure, text, wrong };
`,
    );
    const tsc = join(project, "node_modules/typescript/bin/tsc");
    const { status, stdout } = spawnSync(process.execPath, [tsc, "-p", own], { encoding: "utf8" });
    expect(stdout).toBe("");
    expect(status).toBe(0);
  });

  test("its three lines give the page of the command, byte for byte", () => {
    writeFileSync(
      join(folder, "chain.mjs"),
      `import { writeFileSync } from "node:fs";
import { load, run, render } from "sumpwright";
${CHAIN.replace(", matrix: false", "")}
writeFileSync("chain.html", page);
`,
    );
    execFileSync(process.execPath, ["chain.mjs"], { cwd: folder });
    expect(readFileSync(join(folder, "chain.html"), "utf8")).toBe(readFileSync(join(folder, "out/packed.html"), "utf8"));
  });

  test("its browser entry bundles without Node, and runs", async () => {
    const entry = `import { load, run, csvFiles } from "sumpwright/browser";
export const done = run(load(${JSON.stringify(SCENARIO)}), { members: 0, matrix: false }).then((result) => csvFiles(result).length);`;
    const { outputFiles } = await build({
      stdin: { contents: entry, resolveDir: folder },
      bundle: true,
      platform: "browser",
      format: "esm",
      write: false,
      logLevel: "silent",
    });
    const { done } = (await import(
      `data:text/javascript;base64,${Buffer.from(outputFiles[0]!.contents).toString("base64")}`
    )) as {
      done: Promise<number>;
    };
    expect(await done).toBe(4);
  });
});
