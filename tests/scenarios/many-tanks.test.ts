// Several displays over one sump: the animals are distributed over them by volume.
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { parameterValues } from "../../models/nitrogen/kinetics/parameters.ts";
import { runSimulation } from "../../models/nitrogen/simulation/simulation.ts";
import { matureStock } from "../../models/nitrogen/tank/biofilm-stock.ts";
import { buildNitrogenModel } from "../../models/nitrogen/tank/nitrogen-model.ts";
import { loadScenario } from "../../scenarios/load/load.ts";
import { coupleModels } from "../../scenarios/model/compile.ts";

it("gives each tank its share of the animals' waste: equal tanks have equal readings, apart from the flow through them", () => {
  const file = "four-tanks-one-sump.yaml";
  const source = readFileSync(new URL(`../../scenarios/shipped/${file}`, import.meta.url), "utf8").replace("days: 30", "days: 6");
  const loaded = loadScenario(source, file);
  if (!loaded.ok) throw new Error(loaded.errors.map((error) => error.problem).join("\n"));
  const { resolved, plan, exchange } = coupleModels(loaded.scenario, source);
  const aquarium = buildNitrogenModel(resolved.rig, resolved.management, plan.cells, exchange, parameterValues());
  const run = runSimulation(aquarium, {
    outputsPerDay: 12,
    relative: 1e-4,
    begin: matureStock(aquarium),
    stop: null,
  });
  expect(run.outcome.status).toBe("finished");
  const { layout, displayCells } = aquarium;
  const last = run.states[run.states.length - 1];
  const inflow = (c: number) => exchange.flows.reduce((sum, flow) => sum + (flow.to === c ? flow.m3PerDay : 0), 0);
  const tanks = displayCells
    .map((c) => ({
      flow: inflow(c),
      litres: 1000 * exchange.volumesM3[c],
      tan: last[layout.cellIndex(c, "tan")],
      o2: last[layout.cellIndex(c, "o2")],
    }))
    .sort((a, b) => a.flow - b.flow);
  for (const { flow, litres, tan, o2 } of tanks)
    console.info(
      `${litres.toFixed(0)} L, ${(flow / 0.024).toFixed(0)} L/h: ${tan.toFixed(3)} g N/m3, oxygen ${o2.toFixed(2)} g/m3`,
    );
  const mean = tanks.reduce((sum, { tan }) => sum + tan, 0) / tanks.length;
  for (const { tan } of tanks) {
    expect(tan / mean).toBeGreaterThan(0.8);
    expect(tan / mean).toBeLessThan(1.25);
  }
  // The excess of a tank over its supply is proportional to its share of animals over its flow: the one with the least
  // flow has the most.
  for (let i = 1; i < tanks.length; i++) expect(tanks[i].tan).toBeLessThanOrEqual(tanks[i - 1].tan * 1.001);
});
