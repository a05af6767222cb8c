// Study files: what they are parsed into, and every error with its place.
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { errorText } from "../../../scenarios/load/yaml.ts";
import { columnsOf } from "../../../scenarios/study/columns.ts";
import { loadStudy, type Study } from "../../../scenarios/study/load.ts";
import { studyOf } from "../../../scenarios/study/point.ts";

const project = dirname(dirname(dirname(dirname(fileURLToPath(import.meta.url)))));
const shipped = join(project, "scenarios/shipped");
const files: Readonly<Record<string, string>> = {
  "first.yaml": readFileSync(join(shipped, "first-tank.yaml"), "utf8"),
  "run-in.yaml": readFileSync(join(shipped, "fishless-cycle-180.yaml"), "utf8"),
  "tanks.csv": "name,scenario,water.temperature (°C),food\nshop 1,run-in.yaml,24,2 g/day\nshop 2,first.yaml,,3 g/day\n",
  "bad.csv": 'name,water.temperature (°C)\nshop 1,24\nshop 2,240\n"shop, 3",x\n',
};
const read = (path: string) => files[path] ?? { problem: "there is no such file" };
const load = (text: string) => loadStudy(text, "study.yaml", read);
const HEAD = "sumpwright study: 1\nname: A\nscenario: run-in.yaml\n";
const TAIL = "design: { kind: random, points: 10 }\nrecord: [{ finding: ready }]\n";

function loaded(text: string): Study {
  const result = load(text);
  if (!result.ok) throw new Error(result.errors.map(errorText).join("\n"));
  return result.study;
}
function errors(text: string): string {
  const result = load(text);
  if (result.ok) throw new Error("nothing was wrong");
  return result.errors.map(errorText).join("\n");
}

describe("a study file", () => {
  test("gives every combination, with the last variable varying fastest", () => {
    const study = loaded(`${HEAD}variables:
  - { key: water.temperature, from: 20 °C, to: 30 °C, steps: 3 }
  - { name: plate, key: tower.distribution, values: [drip plate, rotating arm] }
design: { kind: every combination }
record: [{ finding: ready }]
`);
    expect(study.points).toBe(6);
    const changes = Array.from({ length: 6 }, (_, i) => study.point(i).changes.map(({ value }) => value));
    expect(changes).toEqual([
      ["20 °C", "drip plate"],
      ["20 °C", "rotating arm"],
      ["25 °C", "drip plate"],
      ["25 °C", "rotating arm"],
      ["30 °C", "drip plate"],
      ["30 °C", "rotating arm"],
    ]);
    expect([...study.point(3).inputs]).toEqual([25, 1]);
    expect(study.inputs).toEqual([
      { name: "water.temperature", unit: "°C", labels: null },
      { name: "plate", unit: "", labels: ["drip plate", "rotating arm"] },
    ]);
  });

  test("reads a table: units from the heading, empty cells keep the scenario's value, a column selects the scenario", () => {
    const study = loaded(`sumpwright study: 1
name: Shop
scenario: [run-in.yaml, first.yaml]
variables: [{ file: tanks.csv }]
design: { kind: every combination }
record: [{ finding: power-cut }]
`);
    expect(study.points).toBe(2);
    expect(study.point(0).base.file).toBe("run-in.yaml");
    expect(study.point(1).base.file).toBe("first.yaml");
    expect(study.point(0).changes.map(({ steps, value }) => [steps.join("."), value])).toEqual([
      ["name", "shop 1"],
      ["water.temperature", "24 °C"],
      ["food", "2 g/day"],
    ]);
    expect([...study.point(1).inputs]).toEqual([1, 1, Number.NaN, 3]);
  });

  test("gives the same study from the same texts", () => {
    const study = loaded(`${HEAD}variables: [{ key: food, mean: 2 g/day, sd: 0.2 g/day, spread: normal }]\n${TAIL}`);
    const there = studyOf(JSON.parse(JSON.stringify(study.bundle)));
    for (let i = 0; i < 10; i++) expect(there.point(i).changes).toEqual(study.point(i).changes);
  });

  test("a variable with one value takes no dimension", () => {
    const study = loaded(`${HEAD}variables:
  - { key: days, values: [90] }
  - { key: food, from: 1 g/day, to: 3 g/day }
design: { kind: sobol indices, groups: 16 }
record: [{ finding: ready }]
`);
    expect(study.points).toBe(16 * 3);
    expect(study.point(5).changes[0].value).toBe(90);
  });
});

describe("all errors of a study are reported at once, with their places", () => {
  test("in its own text", () => {
    const text = errors(`${HEAD}variables:
  - { key: water.temprature, from: 20 °C, to: 30 °C }
  - { key: tower.depth, from: 350 mm, to: 20 cm }
  - { key: food, from: 1 g/day, to: 3000000 g/day }
  - { key: tower.distribution, values: [drip plate, drop plate] }
  - { key: food, mean: 2 g/day, to: 3 g/day }
  - { key: food }
  - { file: nowhere.csv, steps: 3 }
design: { kind: sobol indices, points: 10 }
record: [{ finding: ready }]
`);
    expect(text).toContain('study.yaml:5:12 variables[1].key: there is no key "temprature" here: did you mean "temperature"?');
    expect(text).toContain("all of a range must be in the same unit: here are mm and cm");
    expect(text).toMatch(/study\.yaml:7:\d+ variables\[3\]\.to: outside the possible range/);
    expect(text).toContain('did you mean "drip plate"?');
    expect(text).toContain("variables[6]: missing: values, or from and to, or file");
    expect(text).toContain("variables[5]: missing: sd, for a spread that is normal");
    expect(text).toContain("variables[5].to: a spread that is normal has no to");
    expect(text).toContain("nowhere.csv: there is no such file");
    expect(text).toContain("a file brings its keys and values itself: leave this out");
    expect(text).toContain("sobol indices are counted in groups: write groups");
  });

  test("in a table, at the cell", () => {
    const text = errors(`${HEAD}variables: [{ file: bad.csv }]\n${TAIL}`);
    expect(text).toContain("bad.csv:3:8 water.temperature: outside the possible range, 2 C to 38 C");
    expect(text).toMatch(/bad\.csv:4:1 water\.temperature: a number is missing here/);
  });

  test("in its records, with the known names", () => {
    const found = columnsOf(
      loaded(`${HEAD}variables: [{ key: food, from: 1 g/day, to: 3 g/day }]
design: { kind: random, points: 10 }
record:
  - { finding: redy }
  - { curve: no4 }
  - { fault: snail }
  - { curve: no2, finding: ready }
rank: { by: nothing, best: lowest }
`),
    );
    const text = "errors" in found ? found.errors.map(errorText).join("\n") : "";
    expect(text).toContain('the scenario gives no finding "redy" as it is: did you mean "ready"?');
    expect(text).toContain('there is no curve "no4": did you mean');
    expect(text).toContain('there is no fault "snail" here: there is none, break hole blocked');
    expect(text).toContain("one of finding and curve is enough");
    expect(text).toContain('nothing recorded is called "nothing"');
  });

  test("in the file itself, and never by an exception", () => {
    expect(errors("")).toContain("the first line must be sumpwright study: 1");
    expect(errors("sumpwright study: 2\nname: A\n")).toContain("only version 1");
    expect(errors(`${HEAD}${TAIL}variables: []\nrecrod: []\n`)).toContain('did you mean "record"?');
    for (const junk of ["[", "a: [1, 2", "- 1", "\0", "sumpwright study: 1\nvariables: 3\n"]) expect(load(junk).ok).toBe(false);
  });
});

describe("the shipped studies", () => {
  const folder = join(project, "scenarios/studies");
  test.each(readdirSync(folder).filter((name) => name.endsWith(".yaml")))("%s has no errors", (name) => {
    const result = loadStudy(readFileSync(join(folder, name), "utf8"), name, (path) => readFileSync(join(folder, path), "utf8"));
    if (!result.ok) throw new Error(result.errors.map(errorText).join("\n"));
    const found = columnsOf(result.study);
    if ("errors" in found) throw new Error(found.errors.map(errorText).join("\n"));
  });
});
