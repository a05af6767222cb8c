// A study records the numbers of a run of the same scenario, regardless of who computes them and what was computed before.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { runScenario } from "../../../scenarios/run/run.ts";
import { columnsOf, LEVELS } from "../../../scenarios/study/columns.ts";
import { loadStudy, type Study } from "../../../scenarios/study/load.ts";
import { createPoint } from "../../../scenarios/study/point.ts";
import type { Column } from "../../../scenarios/study/schema.ts";
import { Summary } from "../../../scenarios/study/summary.ts";
import { SobolSums } from "../../../sim/design/sobol-indices.ts";
import type { Member } from "../../../sim/ensemble/ensemble.ts";
import { scenarioOf } from "../../../viz/study-page.ts";
import { projectFile } from "./processes.ts";

const shipped = projectFile("scenarios/shipped");
const noChance = () => 0;

function prepared(text: string): { study: Study; columns: readonly Column[]; member: () => Member } {
  const loaded = loadStudy(text, "study.yaml", (path) => readFileSync(join(shipped, path), "utf8"));
  if (!loaded.ok) throw new Error(loaded.errors[0].problem);
  const found = columnsOf(loaded.study);
  if ("errors" in found) throw new Error(found.errors[0].problem);
  const columns = [...found.columns];
  return { study: loaded.study, columns, member: () => createPoint({ bundle: loaded.study.bundle, columns }) };
}

const numbers = (row: ReturnType<Member>): number[] => {
  if ("failure" in row) throw new Error(row.failure);
  return [...row];
};

describe("a point of a study", () => {
  const text = `sumpwright study: 1
name: Points
scenario: community-few.yaml
variables:
  - { name: temperature, key: water.temperature, from: 24 °C, to: 27 °C }
  - { name: pump, key: return.pump.flow, values: [1500 L/h, 1800 L/h] }
  - { name: days, key: days, values: [20] }
design: { kind: sobol points, points: 4 }
record:
  - finding: capacity
  - { curve: no2, take: highest }
  - finding: clock-fish-air
  - { curve: no2, every: 10 days }
  - { name: plain, fault: none }
  - { name: knocked, fault: nozzle knocked down }
`;

  test("has the numbers of a run of the same scenario file", async () => {
    const { study, columns, member } = prepared(text);
    const row = numbers(member()(3, noChance));
    const source = scenarioOf(study, 3);
    const loaded = loadScenario(source, "point-3.yaml");
    if (!loaded.ok) throw new Error(loaded.errors[0].problem);
    const result = await runScenario({ ...loaded, source, file: "point-3.yaml" }, { seed: "1", members: 0, matrix: true });
    for (const [c, { name, unit, from }] of columns.entries()) {
      if (from.is === "finding") {
        const finding = result.findings.find(({ id }) => id === from.id)!;
        if (from.part === "value") expect([name, row[c], unit]).toEqual([name, finding.value ?? Number.NaN, finding.unit]);
        else expect(LEVELS[row[c]]).toBe(finding.level);
      } else if (from.is === "curve") {
        const { values } = result.nitrogen.series.find(({ id }) => id === from.series)!;
        if (from.at === "highest") expect(row[c]).toBe(Math.max(...(values as number[])));
        else if (typeof from.at === "number") {
          const at = result.nitrogen.timeDays.indexOf(from.at);
          if (at >= 0) expect(row[c]).toBe(values[at]);
        }
      } else {
        const [a = "none"] = from.faults;
        const cell =
          a === "none"
            ? { marginM: result.hydraulics.stories[0].marginM, floorM3: result.hydraulics.stories[0].floorM3 }
            : result.hydraulics.matrix.find((one) => one.a === a && one.b === a)!;
        if (from.part === "margin") expect(row[c]).toBeCloseTo(cell.marginM, 5);
        if (from.part === "floor") expect(row[c]).toBeCloseTo(cell.floorM3, 5);
      }
    }
    expect(row.filter(Number.isFinite).length).toBeGreaterThan(12);
  });

  test("has the same bits in any order and after any other points, so the cache between points holds only what they share", () => {
    const { study, member } = prepared(text);
    const forwards = member();
    const there = Array.from({ length: study.points }, (_, i) => numbers(forwards(i, noChance)));
    const backwards = member();
    for (let i = study.points - 1; i >= 0; i--) expect(numbers(backwards(i, noChance))).toEqual(there[i]);
    expect(numbers(member()(2, noChance))).toEqual(there[2]);
  });

  test("that cannot run is recorded with the reason and does not affect others", () => {
    const { study, columns, member } = prepared(`sumpwright study: 1
name: Too full
scenario: fishless-cycle-180.yaml
variables: [{ key: sump.water, values: [190 mm, 199 mm] }, { key: sump.outside, values: [700 x 350 x 400 mm, 700 x 350 x 195 mm] }]
design: { kind: every combination }
record: [{ fault: none }]
`);
    const run = member();
    const rows = Array.from({ length: study.points }, (_, i) => run(i, noChance));
    const failed = rows.flatMap((row) => ("failure" in row ? [row.failure] : []));
    expect(failed.length).toBeGreaterThan(0);
    expect(failed.length).toBeLessThan(4);
    for (const reason of failed) expect(reason).not.toMatch(/internal error/);
    const summary = new Summary(study, columns);
    for (const [i, row] of rows.entries()) summary.add(i, study.point(i).inputs, row);
    expect(summary.finish()).toMatchObject({ points: 4, failed: failed.length });
  });
});

describe("Sobol' indices of one of our own tanks", () => {
  test("the highest ammonia of a run-in depends on the dose and hardly on the room temperature", () => {
    const { study, columns, member } = prepared(`sumpwright study: 1
name: Ammonia in a run-in
scenario: fishless-cycle-180.yaml
variables:
  - { name: dose, key: cycle.dose, from: 1.5 mg/L as NH3, to: 4 mg/L as NH3 }
  - { name: days, key: days, values: [15] }
  - { name: room, key: room.humidity, from: 45 %, to: 55 % }
design: { kind: sobol indices, groups: 16 }
record: [{ curve: tan, take: highest }]
`);
    const run = member();
    const summary = new Summary(study, columns);
    const outcomes: number[] = [];
    for (let i = 0; i < study.points; i++) {
      const row = run(i, noChance);
      outcomes.push(numbers(row)[0]);
      summary.add(i, study.point(i).inputs, row);
    }
    const [{ indices, variables, groups }] = summary.finish().indices;
    expect(variables).toEqual(["dose", "room"]);
    expect(groups).toBe(16);
    const [dose, room] = indices;
    expect(dose.total.value).toBeGreaterThan(0.8);
    expect(room.total.value).toBeLessThan(0.02);
    expect(dose.total.low).toBeGreaterThan(room.total.high);
    // The indices on the page agree with those of points computed by hand.
    const sums = new SobolSums(2, "1");
    for (let g = 0; g < 16; g++) sums.add(outcomes.slice(4 * g, 4 * g + 4));
    expect(sums.indices()).toEqual(indices);
  });
});
