// Findings about the distribution of water on the media, from the scenario file to the sentences.
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { parameterValues } from "../../models/nitrogen/kinetics/parameters.ts";
import { buildNitrogenModel } from "../../models/nitrogen/tank/nitrogen-model.ts";
import { ScenarioFormatter } from "../../scenarios/build/scenario-formatter.ts";
import { spreadingFindings } from "../../scenarios/findings/spreading.ts";
import { loadScenario } from "../../scenarios/load/load.ts";
import { coupleModels } from "../../scenarios/model/compile.ts";
import type { Finding } from "../../scenarios/result/result.ts";
import { findingOf } from "../../scenarios/result/statement.ts";

const file = "client-750.yaml";
const shipped = readFileSync(new URL(`../../scenarios/shipped/${file}`, import.meta.url), "utf8");
const ARM = "distribution: rotating arm\n  arm: { speed: 1.5 rpm, arms: 2 }";

function findingsWith(spread: string): (id: string) => Finding | undefined {
  const source = shipped.replace(ARM, spread);
  const loaded = loadScenario(source, file);
  if (!loaded.ok) throw new Error(loaded.errors.map((error) => error.problem).join("\n"));
  const coupled = coupleModels(loaded.scenario, source);
  const { rig, management } = coupled.resolved;
  const aquarium = buildNitrogenModel(rig, management, coupled.plan.cells, coupled.exchange, parameterValues());
  const findings = spreadingFindings(aquarium).map((statement) => findingOf(new ScenarioFormatter(coupled.resolved), statement));
  return (id) => findings.find((finding) => finding.id === id);
}

it("a slow arm wets more than a plate, and a plate more than one corner, which is reported as dry; under a very slow arm the film drains between passes", () => {
  expect(shipped).toContain(ARM);
  const arm = findingsWith(ARM);
  const slow = findingsWith("distribution: rotating arm\n  arm: { speed: 0.2 rpm, arms: 2 }");
  const plate = findingsWith("distribution: drip plate");
  const corner = findingsWith("distribution: one-sided");
  const wetted = (of: (id: string) => Finding | undefined) => of("wetting-tower")!.value!;
  expect(wetted(arm)).toBeGreaterThan(wetted(plate));
  expect(wetted(plate)).toBeGreaterThan(2 * wetted(corner));
  expect(corner("wetting-tower")!.word).toBe("DRY MEDIA");
  expect(plate("dosing-tower")).toBeUndefined();
  expect(arm("dosing-tower")!.level).toBe("info");
  expect(slow("dosing-tower")!.level).toBe("watch");
  // The dose per pass is proportional to the time between passes.
  expect(slow("dosing-tower")!.value! / arm("dosing-tower")!.value!).toBeCloseTo(1.5 / 0.2, 6);
});

it("a measured wetted share is used as given", () => {
  const measured = findingsWith("distribution: drip plate\n  wetted: 55 %");
  expect(measured("wetting-tower")!.value).toBeCloseTo(0.55, 10);
  expect(measured("wetting-tower")!.text).toContain("55 %");
});
