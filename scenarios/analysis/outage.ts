// Trials of an outage from states of a run, and their after-effects. Numbers only; `findings/` puts them into sentences.
import { type PowerCut, stillHours } from "../../models/nitrogen/operation/outage-record.ts";
import type { OutageOptions } from "../../models/nitrogen/operation/power-cut.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import type { Snapshot } from "../../models/nitrogen/tank/snapshot.ts";
import { type ClosedFilterAdvice, closedFilterAdvice } from "../../models/outage/aftermath.ts";
import type { AtRest, Cut } from "../../models/outage/cut.ts";
import { type LostShares, outageLoss } from "../../models/outage/media-clock.ts";
import { continueRun, type OutageTrial, runTrial, trialStart } from "../../models/outage/outage-trial.ts";
import { runningHeat } from "../../models/outage/running-heat.ts";
import { type ClosedWater, closedWaters } from "../../models/outage/stagnant-volumes.ts";
import { outageHeat } from "../../models/outage/temperature.ts";
import { HOURS_PER_DAY } from "../../sim/time.ts";
import { type NitrogenSetup, nitrogenModelOf } from "../model/compile.ts";
import { inDisplays, type Peak, peakOf } from "./series.ts";

/**
 * Simulated time after an outage [d]: a rise of ammonia or nitrite would have shown by then (common practice, no
 * published source).
 */
const FOLLOWED_DAYS = 14;

/** Options of an outage from the hydraulic model and the heat balance. */
const outageOptions = ({ stop, rest, exchange }: NitrogenSetup): OutageOptions => ({
  stop,
  outageHeat: outageHeat(rest, exchange),
  runningHeat: runningHeat(rest, exchange),
});

/** The default outage, simulated with the run's own water and animals. @throws GaveUpError when the integrator gives up */
export const runTrials = (setup: NitrogenSetup, run: Run, cut: Cut): OutageTrial =>
  runTrial(nitrogenModelOf(setup), trialStart(run), cut, outageOptions(setup));

/** Simulates an outage and the two weeks after it from a state of the run. */
function runFortnight(setup: NitrogenSetup, cut: Cut, from: Snapshot): Run {
  const aquarium = nitrogenModelOf(setup);
  const options = { ...outageOptions(setup), outageLoss: outageLoss(setup.rest, aquarium) };
  return continueRun(aquarium, from, cut, stillHours(cut) / HOURS_PER_DAY + FOLLOWED_DAYS, options);
}

/**
 * Highest ammonia and nitrite in the displays during an outage and the two weeks after it, and on the same days without
 * an outage.
 */
export interface Fortnight {
  readonly tan: Peak;
  readonly no2: Peak;
  readonly without: { readonly tan: Peak; readonly no2: Peak };
  /** Lowest oxygen in the displays during the outage [g/m³]. */
  readonly oxygen: number;
}

/** Duration of an outage too short to have an effect; it represents the case without one [h]. */
const NO_CUT_H = 1e-3;

/** After-effects of the default outage; null where the plan has an outage of its own, or there are no animals. */
export function fortnightOf(setup: NitrogenSetup, cut: Cut, run: Run, { from }: OutageTrial): Fortnight | null {
  if (run.cuts.length > 0 || from.operating.groups.length === 0) return null;
  const after = runFortnight(setup, cut, from);
  const without = runFortnight(setup, { ...cut, hours: NO_CUT_H, pumpStuckHours: 0 }, from);
  const highest = (of: Run) => ({ tan: peakOf(inDisplays(of, "tan")), no2: peakOf(inDisplays(of, "no2")) });
  const [record] = after.cuts;
  const { displayCells } = after.aquarium;
  const oxygen = Math.min(...record.oxygen.slice(0, record.inCut).flatMap((cells) => displayCells.map((c) => cells[c])));
  return { ...highest(after), without: highest(without), oxygen };
}

/** Highest readings after the flow returns, and lowest oxygen in the hours after it [g N/m³, g O2/m³]. */
export interface Restart {
  readonly tan: number;
  readonly no2: number;
  readonly oxygen: number;
}

/** Closed filters after the default outage. */
export interface ClosedFilters {
  readonly filters: readonly { readonly water: ClosedWater; readonly advice: ClosedFilterAdvice }[];
  /** Results of restarting all of them as they are, or of rinsing all first; null where every one may be restarted as it is. */
  readonly outcomes: { readonly restarted: Restart; readonly rinsed: Restart } | null;
}

export function closedFiltersAfter(setup: NitrogenSetup, cut: Cut, tried: OutageTrial): ClosedFilters {
  const filters = closedWaters(setup.rest, tried).map((water) => ({ water, advice: closedFilterAdvice(water, cut.hours) }));
  if (filters.every(({ advice }) => advice.restartIntoTank)) return { filters, outcomes: null };
  const after = (closedFilter: PowerCut["closedFilter"]): Restart => {
    const run = runFortnight(setup, { ...cut, closedFilter }, tried.from);
    const back = stillHours(cut) / HOURS_PER_DAY;
    const [record] = run.cuts;
    const { displayCells } = run.aquarium;
    return {
      tan: peakOf(inDisplays(run, "tan"), back).value,
      no2: peakOf(inDisplays(run, "no2"), back).value,
      oxygen: Math.min(...record.oxygen.slice(record.inCut).flatMap((cells) => displayCells.map((c) => cells[c]))),
    };
  };
  return { filters, outcomes: { restarted: after("restarted"), rinsed: after("rinsed first") } };
}

/** Largest share of bacteria that any film on media loses in the default outage. */
export function worstLoss(cut: Cut, rest: AtRest, { aquarium, likely }: OutageTrial): LostShares {
  const loss = outageLoss(rest, aquarium);
  const { towers, submerged, closed } = aquarium.filmOf;
  return [...towers, ...submerged, ...closed]
    .map((film) => {
      const anoxicHours = likely.anoxicHours(aquarium.layout.wiring.films[film].cell, cut.hours);
      return loss(cut, film, { ...likely.films[film], anoxicHours });
    })
    .reduce((a, b) => (b.nob > a.nob ? b : a), { aob: 0, nob: 0 });
}
