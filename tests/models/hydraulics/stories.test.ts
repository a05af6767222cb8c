// Properties of every outage run, whatever the rig: water is conserved, nothing is negative, more water never helps,
// faults never help.

import { describe, expect, test } from "vitest";
import { HydraulicSystem } from "../../../models/hydraulics/dynamics/system.ts";
import { runStage, type StageOptions } from "../../../models/hydraulics/dynamics/transient.ts";
import { faultsFor, withFaults } from "../../../models/hydraulics/outage/faults.ts";
import { OutageSimulator } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { startRunning } from "../../../models/hydraulics/outage/start.ts";
import { faultMatrix, faultMatrixSteps } from "../../../models/hydraulics/planning/fault-matrix.ts";
import type { FaultId, OutageRun, Transient } from "../../../models/hydraulics/types.ts";
import type { Rig } from "../../../models/rig.ts";
import fc from "../../fast-check.ts";
import { fourTanks, handFilled75, hangOn55, holiday, rigR, threeChambers, towerOverSump, twoDrains } from "./rigs.ts";

const RIGS: Record<string, Rig> = {
  reference: rigR(),
  "deep return": handFilled75("seals"),
  "hang-on": hangOn55(5),
  holiday: holiday(0.02),
  "three chambers": threeChambers(),
  "four tanks": fourTanks(),
  tower: towerOverSump(),
  "two drains": twoDrains(),
};

const stagesOf = (story: OutageRun): Transient[] =>
  [story.faultWhileRunning, story.cut, story.restart].filter((stage) => stage !== null);
const total = (volumes: Readonly<Record<string, number>>) => Object.values(volumes).reduce((sum, volume) => sum + volume, 0);

describe.each(Object.entries(RIGS))("%s", (_name, rig) => {
  const simulator = new OutageSimulator(rig);
  const story = simulator.simulate();

  test("starts in a steady state; the outage ends at rest, the restart in a steady state", () => {
    expect(story.running.balanced).toBe(true);
    expect(story.cut.ending).toBe("at rest");
    expect(story.restart!.ending).toBe("steady");
  });

  test("the pieces of the head budget sum to the pump's head", () => {
    const sum = story.running.headBudget.reduce((head, piece) => head + piece.headM, 0);
    expect(Math.abs(sum - story.running.pump.headM)).toBeLessThan(1e-3 * story.running.pump.headM);
  });

  test("total water is conserved to 1e-9 and no volume is negative, without a fault and with each", () => {
    for (const ids of [[], ...faultsFor(rig).map((fault) => [fault.id])]) {
      for (const stage of stagesOf(simulator.simulate({ faults: ids, keepTrace: false, follow: false }))) {
        expect(stage.ending, `${ids} ${stage.kind}: ${stage.endingNote}`).not.toBe("failed");
        expect(stage.waterDriftM3 / total(stage.startVolumesM3)).toBeLessThan(1e-9);
        for (const [id, volume] of Object.entries(stage.endVolumesM3)) expect(volume, `${ids} ${id}`).toBeGreaterThan(-1e-6);
      }
    }
  });

  test("transfer shares are between 0 and 1, each column sums to 1, and they map uniform water to the end volumes", () => {
    for (const stage of stagesOf(story)) {
      const { transfer, vessels, startVolumesM3, endVolumesM3 } = stage;
      vessels.forEach((_, j) => {
        const column = transfer!.map((row) => row[j]);
        expect(Math.abs(column.reduce((sum, share) => sum + share, 0) - 1)).toBeLessThan(1e-9);
        for (const share of column) expect(share).toBeGreaterThanOrEqual(-1e-12);
      });
      const scale = total(startVolumesM3);
      transfer!.forEach((row, i) => {
        const carried = row.reduce((sum, share, j) => sum + share * startVolumesM3[vessels[j].id], 0);
        expect(Math.abs(carried - endVolumesM3[vessels[i].id]) / scale, vessels[i].id).toBeLessThan(5e-4);
      });
    }
  });

  test("traces have at most 400 samples and keep every vessel's highest level", () => {
    for (const stage of stagesOf(story)) {
      expect(stage.trace.timesS.length).toBeLessThanOrEqual(400);
      for (const { id } of stage.vessels) expect(Math.max(...stage.trace.levelsZ[id])).toBe(stage.highestZ[id].z);
    }
    expect(() => JSON.stringify(story)).not.toThrow();
    expect(JSON.stringify(story)).not.toMatch(/null,null|NaN/);
  });

  test("odex, the independent integrator, at a tighter tolerance gives the same levels within 0.02 mm", () => {
    const ends = (["stiff", "odex"] as const).map((integrator) => {
      const { system, settled } = startRunning(rig, simulator.network);
      system.modes.pumpOn = false;
      const options: StageOptions = {
        kind: "power cut",
        atMostS: 45,
        untilStill: false,
        keepTrace: false,
        follow: false,
        integrator,
        tolerance: integrator === "odex" ? 1e-8 : 1e-6,
      };
      const run = runStage(system, settled.volumesM3, options);
      system.evaluate(settled.volumesM3);
      return { run, levels: Float64Array.from(system.levels) };
    });
    expect(ends[1].run.ending).not.toBe("failed");
    simulator.network.vessels.forEach((vessel, n) => {
      if (vessel.areaM2 > 0.003) expect(Math.abs(ends[0].levels[n] - ends[1].levels[n]), vessel.id).toBeLessThan(2e-5);
    });
  });
});

const someRig = fc.record({
  fill: fc.double({ min: 0.13, max: 0.36, noNaN: true }),
  depth: fc.double({ min: 0.03, max: 0.15, noNaN: true }),
  hole: fc.option(fc.double({ min: 0.002, max: 0.008, noNaN: true })),
  bore: fc.constantFrom(0.02, 0.025, 0.032),
  boxes: fc.boolean(),
});
type Choice = typeof someRig extends fc.Arbitrary<infer T> ? T : never;

function resolved({ fill, depth, hole, bore, boxes }: Choice, sumpLengthM = 0.675): Rig {
  const base = boxes ? threeChambers() : rigR();
  const chambers = base.sump.chambers.map((chamber) => ({
    ...chamber,
    lengthM: (chamber.lengthM * sumpLengthM) / base.sump.lengthM,
  }));
  const surface = 1.2;
  const nozzles = base.return.nozzles.map((nozzle) => ({
    ...nozzle,
    boreM: bore,
    tipZ: surface - depth,
    breakHole: hole === null ? null : { diameterM: hole, z: surface - Math.min(0.015, depth / 2), count: 1 },
  }));
  return {
    ...base,
    sump: { ...base.sump, lengthM: sumpLengthM, chambers, runningLevelM: fill },
    return: { ...base.return, riser: { ...base.return.riser, boreM: bore }, nozzles },
  };
}

const floorAfterCut = (rig: Rig) => {
  const { cut } = new OutageSimulator(rig).cutOnly(rig);
  expect(cut.ending).not.toBe("failed");
  const id = rig.sump.chambers[rig.sump.chambers.length - 1].id;
  return { floor: cut.spilledM3, peak: cut.highestZ[id].z, ending: cut.ending };
};

describe("properties", () => {
  test("a higher fill never lowers the peak or the volume on the floor", () => {
    fc.assert(
      fc.property(someRig, fc.double({ min: 0.003, max: 0.03, noNaN: true }), (choice, more) => {
        const low = floorAfterCut(resolved(choice));
        const high = floorAfterCut(resolved({ ...choice, fill: choice.fill + more }));
        expect(high.peak).toBeGreaterThan(low.peak - 2e-4);
        expect(high.floor).toBeGreaterThan(low.floor - 2e-5);
      }),
      { numRuns: 25 },
    );
  });

  test("a larger sump never floods more", () => {
    fc.assert(
      fc.property(someRig, fc.double({ min: 1.05, max: 2, noNaN: true }), (choice, larger) => {
        const small = floorAfterCut(resolved(choice));
        const large = floorAfterCut(resolved(choice, 0.675 * larger));
        expect(large.floor).toBeLessThan(small.floor + 2e-5);
      }),
      { numRuns: 25 },
    );
  });

  test("every outage ends at rest", () => {
    fc.assert(
      fc.property(someRig, (choice) => {
        expect(floorAfterCut(resolved(choice)).ending).toBe("at rest");
      }),
      { numRuns: 25 },
    );
  });

  /**
   * A second fault may help: a dead pump cannot flood at restart, a low fill leaves less to spill, a matted weir retains water in
   * the display, a blocked drain or pad keeps it out of the sump. Faults that only let more water down, or leave more water
   * to move, never help.
   */
  test("a blocked hole, a leaking valve, a displaced nozzle or an overfilled sump never reduces the volume on the floor after an outage", () => {
    const worsening: FaultId[] = ["break hole blocked", "check valve leaks", "nozzle knocked down", "overfilled"];
    for (const rig of [rigR(0.3), handFilled75("seals")]) {
      const simulator = new OutageSimulator(rig);
      for (const first of [[], ...faultsFor(rig).map((fault) => [fault.id])] as FaultId[][]) {
        const before = simulator.simulate({ faults: first, keepTrace: false, follow: false });
        for (const second of worsening) {
          const after = simulator.simulate({ faults: [...first, second], keepTrace: false, follow: false });
          expect(after.cut.spilledM3, `${first} + ${second}`).toBeGreaterThan(before.cut.spilledM3 - 1e-4);
        }
      }
    }
  });

  test("the order of faults does not matter, and neither do faults that cannot occur in the rig", () => {
    const rig = rigR();
    expect(withFaults(rig, ["overfilled", "weir matted"])).toEqual(withFaults(rig, ["weir matted", "overfilled"]));
    expect(withFaults(rig, ["tray clogged", "siphon lost prime", "reservoir dumped"]).broken).toEqual(rig);
  });
});

describe("the matrix", () => {
  test("has every fault, every pair once, the worst ordinary pair, and no verdict that relies on a check valve", () => {
    const rig = handFilled75("seals");
    const calls: number[] = [];
    const matrix = faultMatrix(rig, (done, of) => {
      calls.push(done / of);
    });
    const count = faultsFor(rig).length;
    expect(matrix.singles).toHaveLength(count);
    expect(matrix.pairs).toHaveLength((count * (count - 1)) / 2);
    expect(calls.at(-1)).toBe(1);
    expect(matrix.plain.verdict.word).toBe("FLOODS");
    expect(matrix.checkValveDistrusted).toBe(true);
    for (const pair of matrix.pairs)
      if (pair.faults.every((id) => (matrix.faults.find((fault) => fault.id === id)?.ordinary ?? 0) >= 2))
        expect(pair.verdict.floorM3).toBeLessThanOrEqual(matrix.worstOrdinaryPair!.verdict.floorM3 + 1e-9);
  });

  test("is computed cell by cell, so that it can be interrupted", () => {
    const steps = faultMatrixSteps(rigR());
    const seen = [steps.next(), steps.next(), steps.next()].map(({ value }) => ("done" in value ? value.done : null));
    expect(seen).toEqual([1, 2, 3]);
  });
});

describe("siphon-break holes", () => {
  test("the display falls further with a narrower hole; a pinhole does not break the siphon before the nozzle is uncovered", () => {
    const fall = (diameterM: number) => {
      const rig = rigR();
      const drilled: Rig = {
        ...rig,
        return: {
          ...rig.return,
          nozzles: rig.return.nozzles.map((nozzle) => ({ ...nozzle, breakHole: { diameterM, z: 1.185, count: 1 } })),
        },
      };
      const { cut } = new OutageSimulator(drilled).cutOnly(drilled);
      return { z: cut.lowestZ.display.z, bared: cut.events.some((event) => event.id === "nozzle nozzle bared") };
    };
    const falls = [0.006, 0.004, 0.002, 0.0005].map(fall);
    for (let n = 1; n < falls.length; n++) expect(falls[n].z).toBeLessThan(falls[n - 1].z);
    expect(falls[0].bared).toBe(false);
    expect(falls[3].bared).toBe(true);
    expect(falls[0].z).toBeGreaterThan(1.18);
  });
});

test("the evaluation of a system depends only on its arguments", () => {
  const { system, settled } = startRunning(rigR(), new OutageSimulator(rigR()).network);
  const other = new HydraulicSystem(system.network, system.modes);
  const out = [new Float64Array(system.size), new Float64Array(system.size)];
  system.derivative(
    0,
    Float64Array.from(settled.volumesM3, (volume) => 0.99 * volume),
    out[0],
  );
  system.derivative(0, settled.volumesM3, out[0]);
  other.derivative(0, settled.volumesM3, out[1]);
  out[0].forEach((rate, n) => {
    expect(Math.abs(rate - out[1][n])).toBeLessThan(1e-12);
  });
});
