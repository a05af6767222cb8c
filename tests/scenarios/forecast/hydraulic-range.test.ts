import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { hydraulicRange } from "../../../scenarios/forecast/hydraulic-range.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { coupleModels } from "../../../scenarios/model/compile.ts";

const source = readFileSync(new URL("../../../scenarios/shipped/first-tank.yaml", import.meta.url), "utf8");
const signal = new AbortController().signal;

function resolved(more: string) {
  const text = `${source}\n${more}`;
  const loaded = loadScenario(text, "tank.yaml");
  if (!loaded.ok) throw new Error(loaded.errors[0]!.problem);
  return coupleModels(loaded.scenario, text);
}
const EXACT = `uncertain:
  pump speed: { low: 100 %, high: 100 % }
  overflow edge: { low: 100 %, high: 100 % }
  pipe bore: { low: 100 %, high: 100 % }
  outlet height: { low: 0 mm, high: 0 mm }
`;

test("with all hydraulics exact every member is the power cut of the scenario", async () => {
  const coupled = resolved(`${EXACT}  fill level: { low: 0 mm, high: 0 mm }\n`);
  const { marginM, verdicts } = await hydraulicRange(coupled.resolved, 3, "1", signal);
  const { verdict } = coupled.simulator.simulate({ keepTrace: false, follow: false });
  expect(marginM.early).toBeCloseTo(verdict.marginM, 9);
  expect(marginM.late).toBeCloseTo(verdict.marginM, 9);
  expect(verdicts[verdict.word]).toBeCloseTo(1, 9);
});

test("an uncertain fill level moves the margin by as much, and alone explains it", async () => {
  const coupled = resolved(`${EXACT}  fill level: { low: -10 mm, high: 10 mm }\n`);
  const { marginM, verdicts, why } = await hydraulicRange(coupled.resolved, 40, "1", signal);
  expect(why[0]!.input).toBe("fill level");
  expect(why[0]!.share).toBeGreaterThan(0.9);
  // The walls of the sump are upright: between the tenths the margin varies by the 20 mm of the level, within a millimetre or so of the pump.
  expect(marginM.late - marginM.early).toBeGreaterThan(0.015);
  expect(marginM.late - marginM.early).toBeLessThan(0.025);
  expect(verdicts.HOLDS + verdicts.TIGHT + verdicts.FLOODS).toBeCloseTo(1, 9);
});
