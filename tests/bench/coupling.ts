// Accuracy and cost of the water transfer between the two models: the shares of each vessel's water after an outage,
// from the steps of the hydraulic run as it is, against the same run with steps of 20 ms. Run: npx tsx
// tests/bench/coupling.ts
import { readFileSync } from "node:fs";
import { runStage, type StageOptions } from "../../models/hydraulics/dynamics/transient.ts";
import { buildNetwork } from "../../models/hydraulics/network/from-rig.ts";
import { startRunning, valveLossesFor } from "../../models/hydraulics/outage/start.ts";
import type { Transient } from "../../models/hydraulics/types.ts";
import type { Rig } from "../../models/rig.ts";
import { loadScenario } from "../../scenarios/load/load.ts";
import { coupleModels } from "../../scenarios/model/compile.ts";

function cut(rig: Rig, more: Partial<StageOptions>): { transient: Transient; ms: number } {
  const { system, settled } = startRunning(rig, buildNetwork(rig, valveLossesFor(rig)));
  const y = Float64Array.from(settled.volumesM3);
  system.modes.pumpOn = false;
  system.modes.powered = false;
  const began = performance.now();
  const transient = runStage(system, y, {
    kind: "power cut",
    atMostS: 300,
    untilStill: false,
    keepTrace: false,
    follow: true,
    ...more,
  });
  return { transient, ms: performance.now() - began };
}

for (const name of ["fishless-cycle-180", "marine-400-power-cut", "client-750"]) {
  const text = readFileSync(new URL(`../../scenarios/shipped/${name}.yaml`, import.meta.url), "utf8");
  const loaded = loadScenario(text, name);
  if (!loaded.ok) throw new Error(loaded.errors.map((e) => e.problem).join("; "));
  const { rig } = coupleModels(loaded.scenario, text).resolved;
  cut(rig, {});
  const plain = cut(rig, { follow: false });
  const followed = cut(rig, {});
  const fine = cut(rig, {
    planned: [{ kind: "timed", id: "tick", label: "tick", at: 0.02, every: 0.02, apply: () => "continue" }],
  });
  const a = followed.transient.transfer ?? [];
  const b = fine.transient.transfer ?? [];
  let worst = 0;
  a.forEach((row, i) => {
    row.forEach((share, j) => {
      // Weighted by volume: the shares of a vessel that was almost empty do not matter.
      const weight = followed.transient.startVolumesM3[followed.transient.vessels[j].id] / 1e-3;
      worst = Math.max(worst, Math.abs(share - b[i][j]) * weight);
    });
  });
  console.log(
    `${name}: ${followed.transient.statistics.steps} steps; following costs ${(followed.ms - plain.ms).toFixed(1)} ms on ${plain.ms.toFixed(1)} ms; largest misplaced water ${worst.toFixed(3)} L of ${(Object.values(followed.transient.startVolumesM3).reduce((x, y) => x + y, 0) * 1000).toFixed(0)} L (reference: ${fine.transient.statistics.steps} steps, ${fine.ms.toFixed(0)} ms)`,
  );
}
