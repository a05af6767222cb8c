// Dirt: the organics that lie and dissolve (in the state) with the inert solids that only a hand takes out (in the upkeep), and what it does to pads.

import { blindedShareAt, DRY_PER_COD, INERT_PER_FOOD, loadAtBlinded, mudDepthM, padHoldsG } from "../reactor/solids.ts";
import { restingPlaces } from "../reactor/solids-distribution.ts";
import type { NitrogenModel } from "../tank/nitrogen-model.ts";
import type { OperatingState } from "../tank/operating-state.ts";
import type { RunState } from "./run-state.ts";

/** A pad's spill is written anew when it has changed by so much of the flow, or of what still passes: seldom enough for the solver. */
const STEP_OF_FLOW = 0.05;
const STEP_OF_PASSING = 0.2;

/** Dry matter lying in a cell [g]. */
export function lyingDryG({ system }: NitrogenModel, operating: OperatingState, y: Float64Array, cell: number): number {
  const organicsGPerM3 = Math.max(0, y[system.cellIndex(cell, "xd")]);
  return DRY_PER_COD * organicsGPerM3 * system.conditions.cells[cell].volumeM3 + operating.inertG[cell];
}

/** What lies where at one moment, in the order of the rig's towers and sump chambers. */
export interface SolidsInventory {
  /** Dry matter on each tower's pad [g], its load as a share of what it holds, and the share of the water that spills past; 0 without one. */
  readonly padDryG: readonly number[];
  readonly padLoad: readonly number[];
  readonly spillShare: readonly number[];
  /** Dry matter [g] and depth of mud [m] in each chamber. */
  readonly chamberDryG: readonly number[];
  readonly mudM: readonly number[];
  /** Dry matter lying in all the water, pads and chambers included [g], and the inert part of it in each cell. */
  readonly allDryG: number;
  readonly inertG: readonly number[];
}

export function solidsNow(aquarium: NitrogenModel, operating: OperatingState, y: Float64Array): SolidsInventory {
  const { rig, cells, towerCells, chamberCells } = aquarium;
  const dryG = cells.map((_, c) => lyingDryG(aquarium, operating, y, c));
  const chamberDryG = chamberCells.map((c) => dryG[c]);
  const padLoad = padLoads(aquarium, operating, y);
  return {
    padDryG: rig.towers.map(({ prefilter }, t) => (prefilter ? dryG[towerCells[t]] : 0)),
    padLoad,
    spillShare: padLoad.map(blindedShareAt),
    chamberDryG,
    mudM: rig.sump.chambers.map(({ lengthM }, s) => mudDepthM(chamberDryG[s], lengthM * rig.sump.widthM)),
    allDryG: dryG.reduce((a, b) => a + b, 0),
    inertG: [...operating.inertG],
  };
}

/** Inert solids of food: those of what was eaten come to rest where suspended waste does, those of the rest where it was thrown in. */
export function giveInert({ aquarium, operating, solids }: RunState, eatenG: number, uneatenG: number): void {
  if (eatenG + uneatenG === 0) return;
  const { system, displayCells } = aquarium;
  const [thrown, eaten] = [INERT_PER_FOOD * uneatenG, INERT_PER_FOOD * eatenG];
  const places = restingPlaces(system, displayCells);
  const displaysM3 = displayCells.reduce((sum, c) => sum + system.conditions.cells[c].volumeM3, 0);
  solids.add("food", thrown + eaten);
  for (const c of displayCells) operating.inertG[c] += (thrown * system.conditions.cells[c].volumeM3) / displaysM3;
  for (const c of operating.inertG.keys()) operating.inertG[c] += places[c] * eaten;
  const lifted = places[operating.inertG.length] * eaten;
  if (lifted > 0) solids.add("foam fractionator", -lifted);
}

/** Takes all but a share of what lies in some cells out of the system. */
export function depositSolids(runState: RunState, label: string, cells: readonly number[], share: number): void {
  const { aquarium, operating, solids, y } = runState;
  runState.book(label, () => {
    for (const c of cells) y[aquarium.system.cellIndex(c, "xd")] *= share;
  });
  for (const c of cells) {
    solids.add(label, (share - 1) * operating.inertG[c]);
    operating.inertG[c] *= share;
  }
}

/** Load of each tower's pad as a share of what it holds; 0 without a pad. */
function padLoads(aquarium: NitrogenModel, operating: OperatingState, y: Float64Array): number[] {
  return aquarium.rig.towers.map(({ prefilter }, t) =>
    prefilter ? operating.unweighedLoad[t] + lyingDryG(aquarium, operating, y, aquarium.towerCells[t]) / padHoldsG(prefilter) : 0,
  );
}

/** Lets what lies on the pads send water past the media, when that has changed. */
export function followPads(runState: RunState): void {
  const { aquarium, operating, y } = runState;
  const { blinded } = operating;
  const spilling = padLoads(aquarium, operating, y).map(blindedShareAt);
  const steps = spilling.some((b, t) => Math.abs(b - blinded[t]) > Math.min(STEP_OF_FLOW, STEP_OF_PASSING * (1 - b)));
  if (!steps) return;
  runState.change(() => {
    for (const [t, share] of spilling.entries()) blinded[t] = share;
  });
}

/** Pads become clogged so far, by dirt that nobody weighed. */
export function clogPads(runState: RunState, blindedShare: number): void {
  const { aquarium, operating, y } = runState;
  operating.unweighedLoad.fill(0);
  for (const [t, weighed] of padLoads(aquarium, operating, y).entries())
    if (aquarium.rig.towers[t].prefilter) operating.unweighedLoad[t] = loadAtBlinded(blindedShare) - weighed;
  followPads(runState);
}

/** Takes the old pads out with what is on them, all but a share that falls off, and puts in new ones. */
export function changePads(runState: RunState, leftShare: number): void {
  const { rig, towerCells } = runState.aquarium;
  const padded = towerCells.filter((_, t) => rig.towers[t].prefilter);
  depositSolids(runState, "pads changed", padded, leftShare);
  runState.operating.unweighedLoad.fill(0);
  followPads(runState);
}
