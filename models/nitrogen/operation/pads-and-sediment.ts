// Solids on pads and in chambers: settled organics, which degrade and are in the state vector, and inert solids, which
// stay until somebody removes them; and how a pad that fills up diverts water past the media.

import {
  blindedShareAt,
  DRY_PER_COD,
  INERT_PER_FOOD,
  loadAtBlinded,
  mudDepthM,
  padHoldsG,
  type SolidsState,
} from "../reactor/solids.ts";
import { restingPlaces } from "../reactor/solids-distribution.ts";
import type { NitrogenModel } from "../tank/nitrogen-model.ts";
import type { OperatingState } from "../tank/operating-state.ts";
import type { RunState } from "./run-state.ts";

/**
 * The bypass of a pad is updated when it has changed by this share of the flow, or of what still passes: rarely enough
 * for the solver.
 */
const STEP_OF_FLOW = 0.05;
const STEP_OF_PASSING = 0.2;

/** Settled dry matter in a cell [g]. */
function lyingDryG({ layout }: NitrogenModel, { y, operating }: Watched, { inertG }: SolidsState, cell: number): number {
  const organicsGPerM3 = Math.max(0, y[layout.cellIndex(cell, "xd")]);
  return DRY_PER_COD * organicsGPerM3 * operating.volumesM3[cell] + inertG[cell];
}

/** A state of a run, which may still continue. */
interface Watched {
  readonly y: Readonly<Float64Array>;
  readonly operating: OperatingState;
}

/** Solids at one time, in the order of the rig's towers and sump chambers. */
export interface SolidsInventory {
  /**
   * Dry matter on each tower's pad [g], its load relative to its capacity, and the share of the water that bypasses it;
   * 0 without a pad.
   */
  readonly padDryG: readonly number[];
  readonly padLoad: readonly number[];
  readonly spillShare: readonly number[];
  /** Dry matter [g] and sediment depth [m] in each chamber. */
  readonly chamberDryG: readonly number[];
  readonly mudM: readonly number[];
  /** Dry matter in all cells, pads and chambers included [g], and the inert part of it in each cell. */
  readonly allDryG: number;
  readonly inertG: readonly number[];
}

export function solidsNow(aquarium: NitrogenModel, moment: Watched, solids: SolidsState): SolidsInventory {
  const { rig, cells, towerCells, chamberCells } = aquarium;
  const dryG = cells.map((_, c) => lyingDryG(aquarium, moment, solids, c));
  const chamberDryG = chamberCells.map((c) => dryG[c]);
  const padLoad = padLoads(aquarium, moment, solids);
  return {
    padDryG: rig.towers.map(({ prefilter }, t) => (prefilter ? dryG[towerCells[t]] : 0)),
    padLoad,
    spillShare: padLoad.map(blindedShareAt),
    chamberDryG,
    mudM: rig.sump.chambers.map(({ lengthM }, s) => mudDepthM(chamberDryG[s], lengthM * rig.sump.widthM)),
    allDryG: dryG.reduce((a, b) => a + b, 0),
    inertG: solids.inertG,
  };
}

/**
 * Adds the inert solids of food: those of eaten food settle where suspended waste does, those of uneaten food where it
 * was fed.
 */
export function addInertSolids(run: RunState, eatenG: number, uneatenG: number): void {
  if (eatenG + uneatenG === 0) return;
  const { system, solidsLedger } = run;
  const { displayCells } = run.aquarium;
  const { volumesM3 } = run.operating;
  const [thrown, eaten] = [INERT_PER_FOOD * uneatenG, INERT_PER_FOOD * eatenG];
  const places = restingPlaces(system.wiring, system.coefficients, displayCells);
  const displaysM3 = displayCells.reduce((sum, c) => sum + volumesM3[c], 0);
  solidsLedger.add("food", thrown + eaten);
  const inertG = [...run.solids.inertG];
  for (const c of displayCells) inertG[c] += (thrown * volumesM3[c]) / displaysM3;
  for (const c of inertG.keys()) inertG[c] += places[c] * eaten;
  run.setSolids({ inertG });
  const lifted = places[inertG.length] * eaten;
  if (lifted > 0) solidsLedger.add("foam fractionator", -lifted);
}

/** Removes the solids of some cells, except for a share. */
export function removeSolids(run: RunState, label: string, cells: readonly number[], leftShare: number): void {
  const { layout } = run.aquarium;
  run.book(label, (y) => {
    for (const c of cells) y[layout.cellIndex(c, "xd")] *= leftShare;
  });
  const { inertG } = run.solids;
  for (const c of cells) run.solidsLedger.add(label, (leftShare - 1) * inertG[c]);
  run.setSolids({ inertG: inertG.map((g, c) => (cells.includes(c) ? g * leftShare : g)) });
}

/** Load of each tower's pad relative to its capacity; 0 without a pad. */
function padLoads(aquarium: NitrogenModel, moment: Watched, solids: SolidsState): number[] {
  return aquarium.rig.towers.map(({ prefilter }, t) =>
    prefilter ? solids.unweighedLoad[t] + lyingDryG(aquarium, moment, solids, aquarium.towerCells[t]) / padHoldsG(prefilter) : 0,
  );
}

/** Updates the bypass of the pads where their load has changed enough. */
export function followPads(run: RunState): void {
  const { blinded } = run.operating;
  const spilling = padLoads(run.aquarium, run, run.solids).map(blindedShareAt);
  if (spilling.some((b, t) => Math.abs(b - blinded[t]) > Math.min(STEP_OF_FLOW, STEP_OF_PASSING * (1 - b))))
    run.operate({ blinded: spilling });
}

/** Clogs the pads until a share of the water bypasses them, with solids that are outside the balance. */
export function clogPads(run: RunState, blindedShare: number): void {
  const { rig } = run.aquarium;
  const none = rig.towers.map(() => 0);
  const weighed = padLoads(run.aquarium, run, { ...run.solids, unweighedLoad: none });
  run.setSolids({
    unweighedLoad: rig.towers.map(({ prefilter }, t) => (prefilter ? loadAtBlinded(blindedShare) - weighed[t] : 0)),
  });
  followPads(run);
}

/** Replaces the pads. A share of the solids on the old ones falls off and remains. */
export function changePads(run: RunState, leftShare: number): void {
  const { rig, towerCells } = run.aquarium;
  const padded = towerCells.filter((_, t) => rig.towers[t].prefilter);
  removeSolids(run, "pads changed", padded, leftShare);
  run.setSolids({ unweighedLoad: rig.towers.map(() => 0) });
  followPads(run);
}
