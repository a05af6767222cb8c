import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";

const project = fileURLToPath(new URL("../../../", import.meta.url));
let folder = "";
beforeAll(() => {
  if (!existsSync(join(project, "dist/cli.js"))) throw new Error("dist/cli.js is missing: npm run build makes it");
  folder = mkdtempSync(join(tmpdir(), "sumpwright-forecast-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const sumpwright = (...args: string[]) =>
  spawnSync(process.execPath, ["dist/cli.js", ...args, "--out", join(folder, "out")], {
    cwd: project,
    encoding: "utf8",
  });
const tank = "scenarios/shipped/first-tank.yaml";

describe("forecast, fit and plan refuse what they cannot use, and write nothing", { timeout: 60_000 }, () => {
  test("fit without readings says where to write them", () => {
    const { status, stderr } = sumpwright("fit", tank);
    expect(status).toBe(2);
    expect(stderr).toContain("there are no readings to learn from");
  });

  test("a table with a mistake is refused with line and column", () => {
    const table = join(folder, "readings.csv");
    writeFileSync(table, "at,ammonia\nday 3,lots\n");
    const { status, stderr } = sumpwright("fit", tank, table);
    expect(status).toBe(2);
    expect(stderr).toMatch(/readings\.csv:2:7: "lots" is no reading/);
  });

  test("plan without animals, and a date that is none", () => {
    expect(sumpwright("plan", tank).stderr).toContain("there are no animals to plan for");
    const stocked = join(folder, "stocked.yaml");
    writeFileSync(
      stocked,
      "sumpwright: 1\nname: a\ntank: { outside: 100 x 40 x 50 cm }\nsump: { outside: 60 x 35 x 40 cm, water: 18 cm }\nreturn: { pump: 2000 L/h, outlet: 3 cm, hole: none }\nstock: { name: tetras, count: 3, mass: 1 g }\n",
    );
    const { status, stderr } = sumpwright("plan", stocked, "--start", "soon");
    expect(status).toBe(2);
    expect(stderr).toContain("--start soon is no date");
  });

  test("numbers out of range are refused", () => {
    for (const args of [
      ["forecast", tank, "--runs", "3"],
      ["plan", tank, "--confidence", "20"],
    ])
      expect(sumpwright(...args).status).toBe(2);
    expect(existsSync(join(folder, "out"))).toBe(false);
  });
});
