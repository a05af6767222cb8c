import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";

const project = fileURLToPath(new URL("../../", import.meta.url));
const cli = join(project, "dist/cli.js");
let folder = "";

beforeAll(() => {
  if (!existsSync(cli)) throw new Error("dist/cli.js is missing: npm run build makes it");
  folder = mkdtempSync(join(tmpdir(), "sumpwright-test-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const SHORT = `sumpwright: 1
name: Short
tank: { outside: 100 x 40 x 50 cm }
sump: { outside: 60 x 35 x 40 cm, water: 18 cm }
return: { pump: 2000 L/h, outlet: 3 cm }
seed: mature
stock: [{ name: tetras, count: 10, mass: 2 g }]
days: 5
`;

function sumpwright(...args: string[]): { code: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], { cwd: folder, encoding: "utf8" });
  return { code: status, out: stdout, err: stderr };
}

const put = (name: string, text: string | Uint8Array): string => {
  writeFileSync(join(folder, name), text);
  return name;
};

describe("exit codes and messages", () => {
  test("bad input gives 2 and every error of every file, without a stack trace, and writes nothing", () => {
    put("good.yaml", SHORT);
    put("bad.yaml", SHORT.replace("2000 L/h", "2000 gph").replace("water: 18 cm", "wtaer: 18 cm"));
    put("bytes.yaml", new Uint8Array([0xff, 0xfe, 0x00, 0x61]));
    mkdirSync(join(folder, "sub.yaml"), { recursive: true });
    const { code, out, err } = sumpwright("run", "good.yaml", "bad.yaml", "none.yaml", "bytes.yaml", "sub.yaml", "--out", "o1");
    expect(code).toBe(2);
    expect(out).toBe("");
    for (const words of [
      'did you mean "water"',
      "US (3.785 L) or imperial",
      "none.yaml: there is no such file",
      "bytes.yaml: this is not UTF-8 text",
      "sub.yaml: this is a folder",
    ]) {
      expect(err).toContain(words);
    }
    expect(err).not.toMatch(/\n\s+at /);
    expect(existsSync(join(folder, "o1"))).toBe(false);
  });

  test.each([
    [["run"]],
    [["fly"]],
    [["run", "x.yaml", "--format", "pdf"]],
    [["run", "x.yaml", "--runs", "-1"]],
    [["run", "x.yaml", "--fail-on", "info"]],
  ])("a command line that means nothing: 2 (%j)", (args) => {
    const { code, err } = sumpwright(...args);
    expect(code).toBe(2);
    expect(err).not.toMatch(/\n\s+at /);
  });

  test("help and schema give 0", () => {
    expect(sumpwright("--help")).toMatchObject({ code: 0, err: "" });
    const { code, out } = sumpwright("schema");
    expect(code).toBe(0);
    const schema = JSON.parse(out) as { properties: object; required: string[] };
    expect(Object.keys(schema.properties)).toContain("timeline");
    expect(schema.required).toEqual(["sumpwright", "name", "tank", "sump", "return"]);
  });

  test("check gives 0 for a valid file, with its unusual values", () => {
    put("warm.yaml", `${SHORT}water: { temperature: 33 C }\n`);
    const { code, out } = sumpwright("check", "warm.yaml");
    expect(code).toBe(0);
    expect(out).toMatch(
      /warm\.yaml: no mistakes\. \d+ values were not given; defaults are used\.\n {2}unusual: water\.temperature: 33 C/,
    );
  });
});

describe("run", () => {
  const NEW = SHORT.replace("seed: mature", "seed: gravel");

  test("writes page, JSON and tables, prints the findings, and prints no progress in a pipe", () => {
    put("good.yaml", NEW);
    const { code, out, err } = sumpwright("run", "good.yaml", "--out", "o2", "--runs", "6", "--format", "html,json,csv");
    expect(err).toBe("");
    expect(code).toBe(0);
    expect(readdirSync(join(folder, "o2")).sort()).toEqual([
      "good.days.csv",
      "good.findings.csv",
      "good.flows.csv",
      "good.html",
      "good.json",
      "good.levels.csv",
    ]);
    expect(out.split("\n")[0]).toBe("Short");
    expect(out).toMatch(/HOLDS|TIGHT|FLOODS/);
    const json = readFileSync(join(folder, "o2/good.json"), "utf8");
    expect(JSON.parse(json)).toMatchObject({ format: "sumpwright-result", version: 1, name: "Short", seed: "1" });
    expect(json).not.toMatch(/\bNaN\b|Infinity/);
    expect(readFileSync(join(folder, "o2/good.days.csv"), "utf8").split("\r\n")[0]).toContain("time (days)");
  });

  test("the same seed gives the same bytes, and another seed another band", () => {
    const json = (out: string, ...seed: string[]): string => {
      expect(sumpwright("run", "good.yaml", "--out", out, "--runs", "6", "--format", "json", ...seed).code).toBe(0);
      return readFileSync(join(folder, out, "good.json"), "utf8");
    };
    const first = readFileSync(join(folder, "o2/good.json"), "utf8");
    expect(json("o3", "--seed", "1")).toBe(first);
    expect(JSON.parse(json("o4", "--seed", "b")).nitrogen.bands).not.toEqual(JSON.parse(first).nitrogen.bands);
  });

  test("a run that fails leaves the earlier output unchanged", () => {
    const before = readdirSync(join(folder, "o2")).map((name) => readFileSync(join(folder, "o2", name), "utf8"));
    put("good.yaml", NEW.replace("days: 5", "days: five"));
    expect(sumpwright("run", "good.yaml", "--out", "o2", "--format", "html,json,csv").code).toBe(2);
    expect(readdirSync(join(folder, "o2")).map((name) => readFileSync(join(folder, "o2", name), "utf8"))).toEqual(before);
  });

  test("--fail-on gives 1 only after everything is written", () => {
    // Filled to the rim, with a deep outlet: the outage puts water on the floor.
    put("brim.yaml", SHORT.replace("water: 18 cm", "water: 38 cm").replace("outlet: 3 cm", "outlet: 20 cm"));
    const { code, out } = sumpwright("run", "brim.yaml", "--out", "o6", "--runs", "0", "--format", "json", "--fail-on", "alarm");
    expect(out).toContain("FLOODS");
    expect(code).toBe(1);
    expect(existsSync(join(folder, "o6/brim.json"))).toBe(true);
  });

  test("two files with the same name get one page each and a list; --together makes one page", () => {
    mkdirSync(join(folder, "a"), { recursive: true });
    put("good.yaml", SHORT);
    put("a/good.yaml", SHORT.replace("name: Short", "name: Other"));
    expect(sumpwright("run", "good.yaml", "a/good.yaml", "--out", "o7", "--runs", "0").code).toBe(0);
    expect(readdirSync(join(folder, "o7")).sort()).toEqual(["good-2.html", "good.html", "index.html"]);
    expect(sumpwright("run", "good.yaml", "--out", "o8", "--runs", "0", "--together").code).toBe(0);
    expect(readdirSync(join(folder, "o8"))).toEqual(["compared.html"]);
  });
});
