// Speed of the hydraulic model: npx tsx tests/bench/hydraulics.bench.ts
// Processor time of this process after a warm-up, so that other work on the machine has little effect.

import { cpuUsage } from "node:process";
import { faultsFor } from "../../models/hydraulics/outage/faults.ts";
import { OutageSimulator } from "../../models/hydraulics/outage/outage-simulation.ts";
import { faultMatrix } from "../../models/hydraulics/planning/fault-matrix.ts";
import type { Rig } from "../../models/rig.ts";
import { fourTanks, hangOn55, rigR, threeChambers, towerOverSump } from "../models/hydraulics/rigs.ts";

function cpuMs(run: () => void): number {
  const before = cpuUsage();
  run();
  const { user, system } = cpuUsage(before);
  return (user + system) / 1000;
}

const best = (times: number, run: () => void) => Math.min(...Array.from({ length: times }, () => cpuMs(run)));

/** A filter with all parts: tower with prefilter, three chambers joined under and over baffles, top-off, emergency drain. */
function fullRig(): Rig {
  const base = towerOverSump();
  const tower = base.towers[0];
  const { sump } = threeChambers();
  return {
    ...base,
    towers: [
      {
        ...tower,
        grateZ: 0.27,
        drainsTo: "inlet",
        prefilter: { grade: "medium", areaM2: 0.06, thicknessM: 0.03, blindedShare: 0.1, spillsTo: "past the media" },
      },
    ],
    sump: {
      ...sump,
      heightM: 0.45,
      chambers: sump.chambers.map((chamber) => ({ ...chamber, lengthM: chamber.lengthM * 1.3 })),
      joined: [],
      baffles: [
        { kind: "under", topM: 0.35, gapM: 0.04 },
        { kind: "over", topM: 0.22, gapM: 0 },
      ],
    },
    topOff: { reservoirM3: 0.01, pumpM3PerS: 1e-5, onBelowM: 0.175, offAboveM: 0.182, salinityGPerKg: 0 },
  };
}

for (const [name, rig] of Object.entries({
  reference: rigR(),
  "hang-on": hangOn55(5),
  "four tanks": fourTanks(),
  full: fullRig(),
})) {
  const simulator = new OutageSimulator(rig);
  for (let k = 0; k < 5; k++) simulator.simulate();
  const story = best(20, () => simulator.simulate());
  const bare = best(20, () => simulator.simulate({ keepTrace: false, follow: false }));
  const faults = faultsFor(rig).length;
  const matrix = best(3, () => faultMatrix(rig));
  const cells = 1 + faults + (faults * (faults - 1)) / 2;
  console.log(
    `${name.padEnd(12)} stop to restart with traces and transfer ${story.toFixed(1)} ms, verdict only ${bare.toFixed(1)} ms; ` +
      `matrix of ${faults} faults, ${cells} cells: ${matrix.toFixed(0)} ms (${((matrix / cells) * 79).toFixed(0)} ms for 79 cells)`,
  );
}
