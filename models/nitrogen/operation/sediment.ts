// Sediment that fills its place: the retention of a cell falls as sediment takes the room of its water, so that what does
// not settle there is carried on to where there is still room.
import type { Coefficients } from "../reactor/coefficients.ts";
import { DRY_PER_COD, retentionAt, type SolidsState, sedimentRoomG } from "../reactor/solids.ts";
import { restingPlaces } from "../reactor/solids-distribution.ts";
import type { NitrogenModel } from "../tank/nitrogen-model.ts";
import type { OperatingState } from "../tank/operating-state.ts";
import type { RunState } from "./run-state.ts";

/** The retention of a cell is updated when it has changed by this share: rarely enough for the solver. */
const STEP = 0.05;
/** From this filled share on, retention is below its first step, and the filling is followed between events too. */
const WATCHED = 0.45;
/** Filled share between two looks at a place that fills, and the shortest and longest time between them [d]. */
const LOOK_SHARE = 0.02;
const LOOK_DAYS = [0.01, 0.5] as const;

/** A state of a run, which may still continue. */
export interface Watched {
  readonly y: Readonly<Float64Array>;
  readonly operating: OperatingState;
}

/** Settled dry matter in a cell [g]. */
export function lyingDryG({ layout }: NitrogenModel, { y, operating }: Watched, { inertG }: SolidsState, cell: number): number {
  const organicsGPerM3 = Math.max(0, y[layout.cellIndex(cell, "xd")]);
  return DRY_PER_COD * organicsGPerM3 * operating.volumesM3[cell] + inertG[cell];
}
const lyingG = (run: RunState, cell: number): number => lyingDryG(run.aquarium, run, run.solids, cell);

/** Dry matter that a cell holds when sediment fills it [g]. A tower holds waste on its pad, which has a law of its own. */
const roomG = ({ aquarium: { exchange, towerCells } }: RunState, cell: number): number =>
  towerCells.includes(cell) ? Number.POSITIVE_INFINITY : sedimentRoomG(exchange.volumesM3[cell]);

/** Degradable dry matter that settles in a cell or is retained there [g/d]. */
function settlingGPerDay({ system, y }: RunState, cell: number): number {
  const { wiring, coefficients } = system;
  const afloat = (c: number): number => Math.max(0, y[system.cellIndex(c, "xs")]);
  const { settlingPerDay, volumeM3, captureShare } = coefficients.cells[cell];
  const retained = wiring.ways.reduce(
    (sum, { from, to }, w) => sum + (to === cell ? captureShare * coefficients.flows[w] * afloat(from) : 0),
    0,
  );
  return DRY_PER_COD * (settlingPerDay * volumeM3 * afloat(cell) + retained);
}

/** Updates the retention of the cells where it has changed enough, and looks again before a place that fills is full. */
export function followSediment(run: RunState, day: number): void {
  const { retention } = run.operating;
  const filled = retention.map((_, c) => lyingG(run, c) / roomG(run, c));
  const now = filled.map(retentionAt);
  if (now.some((share, c) => Math.abs(share - retention[c]) > STEP || (share === 0 && retention[c] > 0)))
    run.operate({ retention: now });
  const fillDays = filled.map((share, c) =>
    share > WATCHED && run.operating.retention[c] > 0
      ? (LOOK_SHARE * roomG(run, c)) / settlingGPerDay(run, c)
      : Number.POSITIVE_INFINITY,
  );
  const soonest = Math.min(...fillDays);
  if (soonest === Number.POSITIVE_INFINITY) return;
  const look = day + Math.min(Math.max(soonest, LOOK_DAYS[0]), LOOK_DAYS[1]);
  if (run.eventQueue.nextDay > look) run.eventQueue.at(look, () => undefined);
}

/** Share of its retention that a full place keeps in the balance of inert solids, so that the balance has one solution. */
const NEXT_TO_NOTHING = 1e-9;
/** Grams relative to the whole below which nothing is left over [-]. */
const ROUNDING = 1e-12;

/**
 * Where inert solids settle that are suspended in some cells in proportion to their volume [g]. What a full place cannot
 * hold settles elsewhere; where every place is full, it stays where it came from.
 * @returns grams for each cell, and last what a foam fractionator removes; the sum is `grams`
 */
export function settleInert(run: RunState, grams: number, from: readonly number[]): readonly number[] {
  const { wiring, coefficients } = run.system;
  const rooms = wiring.cells.map((_, c) => Math.max(0, roomG(run, c) - lyingG(run, c)));
  const placed = [...rooms.map(() => 0), 0];
  const full = new Set<number>();
  let afloat = grams;
  for (let found = true; found && afloat > ROUNDING * grams; ) {
    found = false;
    let left = afloat;
    for (const [c, share] of restingPlaces(wiring, withoutRetention(coefficients, full), from).entries()) {
      const here = Math.min(share * afloat, (rooms[c] ?? Number.POSITIVE_INFINITY) - placed[c]);
      if (here < share * afloat && !full.has(c)) {
        full.add(c);
        found = true;
      }
      placed[c] += here;
      left -= here;
    }
    afloat = left;
  }
  if (afloat <= ROUNDING * grams) return placed;
  const volumeM3 = from.reduce((sum, c) => sum + coefficients.cells[c].volumeM3, 0);
  for (const c of from) placed[c] += (afloat * coefficients.cells[c].volumeM3) / volumeM3;
  return placed;
}

/** The same coefficients with next to no retention in some cells. */
function withoutRetention(coefficients: Coefficients, full: ReadonlySet<number>): Coefficients {
  if (full.size === 0) return coefficients;
  const cells = coefficients.cells.map((cell, c) =>
    full.has(c)
      ? {
          ...cell,
          settlingPerDay: NEXT_TO_NOTHING * cell.settlingPerDay,
          captureShare: NEXT_TO_NOTHING * cell.captureShare,
        }
      : cell,
  );
  return { ...coefficients, cells };
}
