// From the hydraulic model to the nitrogen model: water cells, their volumes, and the flows between them.
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { RunningState, Transient, VesselView } from "../hydraulics/types.ts";
import type { ClosedFilter } from "../rig.ts";

export interface WaterCell {
  readonly id: string;
  readonly name: string;
  readonly kind: "display" | "tower" | "chamber" | "closed filter";
  /** Id in the rig of the display, tower, chamber or closed filter. */
  readonly partOf: string;
}

/** The well-mixed bodies of water, and the vessels that form each of them. */
export interface CellPlan {
  readonly cells: readonly WaterCell[];
  /** Index of the cell of each vessel, by vessel id; absent for floor, air and reservoir. */
  readonly cellOf: Readonly<Record<string, number>>;
  /** Closed filters: each is a cell of its own that stays full, connected to the cell `on`. */
  readonly closed: readonly { readonly cell: number; readonly on: number; readonly filter: ClosedFilter }[];
}

/** Exchange between the cells of a CellPlan, in their order; `from` and `to` are cell indices. */
export interface Exchange {
  /** Volume of each cell, m³. */
  readonly volumesM3: readonly number[];
  readonly flows: readonly { readonly from: number; readonly to: number; readonly m3PerDay: number }[];
}

/** The kind of cell to which the water of a vessel belongs; null = to none. A new kind of vessel is a type error here. */
const kinds: Readonly<Record<VesselView["kind"], WaterCell["kind"] | null>> = {
  display: "display",
  cup: "display",
  box: "display",
  "drain pipe": "display",
  "return pipe": "display",
  prefilter: "tower",
  tray: "tower",
  media: "tower",
  chamber: "chamber",
  reactor: "chamber",
  sock: "chamber",
  reservoir: null,
  floor: null,
  air: null,
};

/**
 * Groups vessels into cells: a display with its overflow box and pipes, a tower with its tray and media, each sump
 * chamber, and each closed filter.
 * @param homeOf display of each overflow, drain and nozzle, and chamber of each tank joined to the sump, by id
 * @throws Error when a closed filter is connected to neither a display nor a sump chamber
 */
export function planCells(
  running: RunningState,
  homeOf: Readonly<Record<string, string>>,
  closedFilters: readonly ClosedFilter[],
): CellPlan {
  const cells: WaterCell[] = [];
  const cellOf: Record<string, number> = {};
  const claim = (vessel: VesselView, kind: WaterCell["kind"], partOf: string): void => {
    let index = cells.findIndex((cell) => cell.kind === kind && cell.partOf === partOf);
    if (index < 0) index = cells.push({ id: partOf, name: vessel.name, kind, partOf }) - 1;
    cellOf[vessel.id] = index;
  };
  const main = ({ kind, partOf }: VesselView) =>
    (kind === "display" || kind === "media" || kind === "chamber") && homeOf[partOf] === undefined;
  for (const vessel of [...running.vessels].sort((a, b) => Number(main(b)) - Number(main(a)))) {
    const kind = kinds[vessel.kind];
    if (kind) claim(vessel, kind, homeOf[vessel.partOf] ?? vessel.partOf);
  }
  const closed = closedFilters.map((filter) => {
    const on = cells.findIndex((cell) => (cell.kind === "display" || cell.kind === "chamber") && cell.partOf === filter.on);
    if (on < 0) throw new Error(`${filter.id} hangs on ${filter.on}, which is neither a display nor a sump chamber`);
    const cell = cells.push({ id: filter.id, name: filter.id, kind: "closed filter", partOf: filter.id }) - 1;
    return { cell, on, filter };
  });
  return { cells, cellOf, closed };
}

/** Cells whose inflow and outflow agree within this share are not adjusted. */
const BALANCED_SHARE = 1e-6;
const MOST_ROUNDS = 2000;

/**
 * The circulating part of the flows. Each flow is reduced, by scaling rows and columns in turn, until the inflow and
 * outflow of every cell are equal. Scaling only lowers flows, so the iteration converges. This matters where no steady
 * state exists and levels rise and fall: a model with fixed volumes would otherwise accumulate mass in the cells that
 * fill. Balanced flows do not change.
 */
function circulation(cells: number, given: Exchange["flows"]): Exchange["flows"] {
  const flows = given.map((flow) => ({ ...flow }));
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let worst = 0;
    for (let cell = 0; cell < cells; cell++) {
      let [into, out] = [0, 0];
      for (const { from, to, m3PerDay } of flows) {
        if (to === cell) into += m3PerDay;
        if (from === cell) out += m3PerDay;
      }
      const most = Math.max(into, out);
      const miss = most > 0 ? Math.abs(into - out) / most : 0;
      if (miss <= BALANCED_SHARE) continue;
      worst = Math.max(worst, miss);
      // A cell with almost no outflow receives no inflow.
      const share = Math.min(into, out) / most;
      for (const flow of flows)
        if (into > out ? flow.to === cell : flow.from === cell) flow.m3PerDay *= share < BALANCED_SHARE ? 0 : share;
    }
    if (worst === 0) break;
  }
  return flows.filter(({ m3PerDay }) => m3PerDay > 0);
}

/** Volumes of the cells, and flows between them, in the running state. */
export function runningExchange(plan: CellPlan, running: RunningState): Exchange {
  const between = new Map<string, number>();
  for (const link of running.links) {
    const flow = running.flowsM3PerS[link.id] * SECONDS_PER_DAY;
    const [from, to] =
      flow >= 0 ? [plan.cellOf[link.from], plan.cellOf[link.to]] : [plan.cellOf[link.to], plan.cellOf[link.from]];
    if (from === undefined || to === undefined || from === to || flow === 0) continue;
    const key = `${from} ${to}`;
    between.set(key, (between.get(key) ?? 0) + Math.abs(flow));
  }
  for (const { cell, on, filter } of plan.closed)
    for (const key of [`${on} ${cell}`, `${cell} ${on}`]) between.set(key, filter.flowM3PerS * SECONDS_PER_DAY);
  const flows = [...between].map(([key, m3PerDay]) => {
    const [from, to] = key.split(" ").map(Number);
    return { from, to, m3PerDay };
  });
  return { volumesM3: dayVolumes(plan, running.volumesM3), flows: circulation(plan.cells.length, flows) };
}

/** Smallest volume of a cell, for wet walls and drops: concentrations are divided by it [m³] (modelling assumption). */
const LEAST_CELL_M3 = 1e-5;

/** Volume of each cell for the nitrogen model [m³], at least LEAST_CELL_M3; in the order of the cells. */
export const dayVolumes = (plan: CellPlan, volumesM3: Readonly<Record<string, number>>): number[] =>
  cellVolumes(plan, volumesM3).map((volume) => Math.max(volume, LEAST_CELL_M3));

/** Water volume of each cell [m³], in the order of the cells. */
export function cellVolumes(plan: CellPlan, volumesM3: Readonly<Record<string, number>>): number[] {
  const sums = plan.cells.map(() => 0);
  for (const [vessel, volume] of Object.entries(volumesM3)) {
    const cell = plan.cellOf[vessel];
    if (cell !== undefined) sums[cell] += volume;
  }
  for (const { cell, filter } of plan.closed) sums[cell] = filter.waterM3;
  return sums;
}

/**
 * Destination of the water of each cell after a transient, as volume shares: share[to][from], dimensionless. It has one
 * row per cell and a last row for water that left the system (floor), and one column per cell. Columns sum to one.
 * @throws Error when the transient was run without its transfer matrix
 */
export function cellTransfer(plan: CellPlan, transient: Transient): number[][] {
  const n = plan.cells.length;
  const share = Array.from({ length: n + 1 }, () => new Array<number>(n).fill(0));
  const start = cellVolumes(plan, transient.startVolumesM3);
  for (const { cell } of plan.closed) share[cell][cell] = 1;
  if (!transient.transfer) throw new Error("this transient was run without its transfer matrix");
  transient.vessels.forEach((source, j) => {
    const from = plan.cellOf[source.id];
    if (from === undefined) return;
    const weight = start[from] > 0 ? transient.startVolumesM3[source.id] / start[from] : 0;
    transient.vessels.forEach((target, i) => {
      share[plan.cellOf[target.id] ?? n][from] += weight * (transient.transfer?.[i]?.[j] ?? 0);
    });
  });
  return share;
}
