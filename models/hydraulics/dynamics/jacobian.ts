// Jacobian of the hydraulic model, for the stiff integrator and the steady-state solver.

import type { StiffProblem } from "../../../sim/integrators/problem.ts";
import type { SparsePattern } from "../../../sim/linear-algebra/sparse-pattern.ts";
import { levelZ } from "../laws/level-curve.ts";
import type { HydraulicSystem } from "./system.ts";

/** Increment of a level for forward differences [m]. */
const NUDGE_M = 1e-6;

/** Links that depend on one vessel, and where their derivatives go among the pattern's values. */
interface Column {
  readonly vessel: number;
  readonly nudgeM3: number;
  readonly simple: readonly number[];
  readonly drains: readonly number[];
  readonly returnLine: boolean;
  /** For every dependent link: [link, value index of its source row, value index of its destination row]. */
  readonly touched: readonly (readonly [number, number, number])[];
}

/**
 * ∂(rates)/∂(volumes) of a hydraulic system on a fixed sparse pattern, by forward differences link by link: the
 * increment of a vessel recomputes only the links that depend on it. Each derivative is subtracted from one row and
 * added to another, so that every column sums to zero exactly and implicit steps conserve water as explicit ones do.
 */
export class StiffHydraulics implements StiffProblem {
  readonly size: number;
  readonly pattern: SparsePattern;
  private readonly system: HydraulicSystem;
  private readonly columns: readonly Column[];
  private readonly base: Float64Array;

  constructor(system: HydraulicSystem) {
    this.system = system;
    this.size = system.size;
    this.base = new Float64Array(system.flows.length);
    const touches = linksTouched(system);
    this.pattern = patternOf(system, touches);
    const place = (row: number, column: number) => {
      const { rowStart, columns } = this.pattern;
      for (let k = rowStart[row]; k < rowStart[row + 1]; k++) if (columns[k] === column) return k;
      throw new Error("the pattern lacks an entry it was built from");
    };
    const { links } = system.network;
    this.columns = touches.map(({ simple, drains, returnLine, all }, vessel) => ({
      vessel,
      nudgeM3: NUDGE_M * system.network.vessels[vessel].areaM2,
      simple,
      drains,
      returnLine,
      touched: all.map((link) => [link, place(links[link].from, vessel), place(links[link].to, vessel)] as const),
    }));
  }

  componentName(index: number): string {
    return this.system.componentName(index);
  }

  derivative(t: number, y: Float64Array, out: Float64Array): void {
    this.system.derivative(t, y, out);
  }

  jacobian(_t: number, y: Float64Array, values: Float64Array): void {
    const { system, base } = this;
    const { levels, flows, network } = system;
    system.evaluate(y);
    base.set(flows);
    values.fill(0);
    for (const column of this.columns) {
      if (column.touched.length === 0) continue;
      const { vessel, nudgeM3 } = column;
      const volume = y[vessel];
      const level = levels[vessel];
      y[vessel] = volume + nudgeM3;
      levels[vessel] = levelZ(network.vessels[vessel].curve, y[vessel]);
      for (const link of column.simple) flows[link] = system.linkFlow(network.links[link], y);
      for (const drain of column.drains) system.drainFlow(drain, y);
      if (column.returnLine) system.returnFlows(y);
      for (const [link, fromEntry, toEntry] of column.touched) {
        const slope = (flows[link] - base[link]) / nudgeM3;
        values[fromEntry] -= slope;
        values[toEntry] += slope;
        flows[link] = base[link];
      }
      y[vessel] = volume;
      levels[vessel] = level;
    }
  }
}

interface Touched {
  readonly simple: number[];
  readonly drains: number[];
  returnLine: boolean;
  readonly all: number[];
}

/** For each vessel, the links whose flow depends on its volume. */
function linksTouched({ network, size }: HydraulicSystem): Touched[] {
  const touched = Array.from({ length: size }, (): Touched => ({ simple: [], drains: [], returnLine: false, all: [] }));
  network.links.forEach((link, n) => {
    if (link.kind === "return" || link.kind === "drain inlet" || link.kind === "drain outlet") return;
    const oneSided =
      link.kind === "rim" || link.kind === "hole" || link.kind === "pad" || link.kind === "film" || link.kind === "set";
    for (const vessel of oneSided ? [link.from] : [link.from, link.to]) {
      touched[vessel].simple.push(n);
      touched[vessel].all.push(n);
    }
  });
  network.drains.forEach((drain, n) => {
    for (const vessel of [drain.box, drain.pipeVessel, drain.to]) {
      touched[vessel].drains.push(n);
      touched[vessel].all.push(drain.inletLink, drain.outletLink);
    }
  });
  for (const line of network.returnLine ? [network.returnLine, ...network.moreLines] : []) {
    const links = [...line.legs.flatMap((leg) => [leg.inLink, leg.outLink]), ...line.branches.map((branch) => branch.link)];
    const vessels = new Set([
      line.source,
      ...line.legs.flatMap((leg) => [leg.display, leg.legVessel]),
      ...line.branches.map((branch) => branch.to),
    ]);
    for (const vessel of vessels) {
      touched[vessel].returnLine = true;
      touched[vessel].all.push(...links);
    }
  }
  return touched;
}

function patternOf({ network, size }: HydraulicSystem, touches: readonly Touched[]): SparsePattern {
  const rows = Array.from({ length: size }, (_, n) => new Set([n]));
  touches.forEach(({ all }, vessel) => {
    for (const link of all) {
      rows[network.links[link].from].add(vessel);
      rows[network.links[link].to].add(vessel);
    }
  });
  const rowStart = new Int32Array(size + 1);
  const columns: number[] = [];
  rows.forEach((row, n) => {
    columns.push(...[...row].sort((a, b) => a - b));
    rowStart[n + 1] = columns.length;
  });
  return { size, rowStart, columns: Int32Array.from(columns) };
}
