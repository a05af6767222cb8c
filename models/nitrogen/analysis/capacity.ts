// Queries about the state at one time, each answered by integrating a copy of it: whether it clears a dose, how much
// food it can process, and what a film takes up.
import { GaveUpError } from "../../../sim/integrators/outcome.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { ammoniaShare, FAECES_SHARE, NITROGEN_PER_PROTEIN, USUAL_KEPT_SHARE } from "../../life/excretion.ts";
import { carbonateConstants, dicMolPerM3 } from "../../water/carbonate.ts";
import { NITROGEN_G_PER_MOL } from "../../water/molar-mass.ts";
import { eachGuild, guilds, type Stock } from "../kinetics/guilds.ts";
import type { ParameterValues } from "../kinetics/parameters.ts";
import type { Coefficients } from "../reactor/coefficients.ts";
import { NitrogenSystem } from "../reactor/system.ts";
import type { FilmSpec } from "../reactor/wiring.ts";
import { coefficients } from "../tank/coefficients.ts";
import type { NitrogenModel } from "../tank/nitrogen-model.ts";
import { asRunning } from "../tank/operating-state.ts";
import type { SampledState } from "../tank/snapshot.ts";
import { largest } from "./largest.ts";

/** Relative tolerance: the results are needed to a few per cent only. */
const TRIAL_TOLERANCE = 1e-3;
/** Share of what must go of a dose that the nitrifiers must at least be able to oxidise for it to be tried. */
const HOPELESS_SHARE = 0.5;
/** Emptying rate that turns the gut's second stage into a steady source [1/d]. */
const STEADY_RELEASE_PER_DAY = 1e-6;

export interface Limits {
  /** Highest TAN and nitrite in the display that count as cleared [g N/m³]. */
  readonly tanGPerM3: number;
  readonly no2GPerM3: number;
}

/** Limits below which a kit shows nothing: 0.25 mg/L as NH3 and as NO2 (common practice, no published source). */
export const NOTHING_ON_A_KIT: Limits = { tanGPerM3: 0.25 / 1.2159, no2GPerM3: 0.25 / 3.2844 };

/**
 * Integrates copies of states of a run. Each copy has the operating state of its time, with power and pump on; the run itself and
 * its equations are not changed.
 */
export class Trial {
  private readonly aquarium: NitrogenModel;
  private readonly system: NitrogenSystem;
  private readonly solver: StiffSolver;
  private readonly y: Float64Array;

  constructor(aquarium: NitrogenModel) {
    this.aquarium = aquarium;
    const { layout, parameters } = aquarium;
    this.system = new NitrogenSystem(layout.wiring, parameters);
    this.y = new Float64Array(layout.size);
    this.solver = new StiffSolver(this.system, {
      tolerances: { relative: TRIAL_TOLERANCE, absolute: layout.absoluteTolerances() },
    });
  }

  /** Whether a dose of ammonia [g N/m³] in all the water is cleared, both ammonia and nitrite, after `days` without food. */
  clearsDose(moment: SampledState, doseTanGPerM3: number, days: number, limits = NOTHING_ON_A_KIT): boolean {
    this.prepare(moment);
    return !this.isHopeless(moment, doseTanGPerM3, days, limits) && this.leftOf(moment, doseTanGPerM3, days, limits) < 1;
  }

  /**
   * Whether the nitrifiers, grown as fast as they can, and the plants could not take up even half of what must go. Other ways (escaping ammonia,
   * heterotrophs) do not take half of a dose.
   */
  private isHopeless({ y }: SampledState, doseTanGPerM3: number, days: number, limits: Limits): boolean {
    const { system } = this;
    const { cells } = system.coefficients;
    const volume = cells.reduce((sum, cell) => sum + cell.volumeM3, 0);
    const plants = cells.reduce((sum, cell) => sum + cell.plantUptakeGNPerM3Day * cell.volumeM3, 0) * days;
    const ammonia = HOPELESS_SHARE * (doseTanGPerM3 - limits.tanGPerM3) * volume - plants;
    const nitrite = ammonia - HOPELESS_SHARE * limits.no2GPerM3 * volume;
    return system.mostOxidised(y, "tan", days) < ammonia || system.mostOxidised(y, "no2", days) < nitrite;
  }

  /** Largest dose [g N/m³] up to `most` that is cleared after `days`, to 3 %. */
  largestDose(moment: SampledState, days: number, most: number, limits = NOTHING_ON_A_KIT): number {
    this.prepare(moment);
    return largest(most, (dose) => this.leftOf(moment, dose, days, limits));
  }

  /** The state after some days without food or dose. */
  unfed(moment: SampledState, days: number): SampledState {
    this.prepare(moment);
    this.y.set(moment.y);
    this.solver.restart();
    this.solver.advance(0, days, this.y);
    return { y: Float64Array.from(this.y), operating: moment.operating };
  }

  /**
   * Largest steady daily food [g as fed] that keeps the display below the limits at the end of a trial of `days` (3 is
   * usual: long enough to reach the concentration that the present biomass maintains, too short for it to grow with the
   * load), to 3 %.
   */
  foodCapacityGPerDay(moment: SampledState, proteinShare: number, limits = NOTHING_ON_A_KIT, days = 3): number {
    const { y, system } = this;
    const steady = {
      ratePerDay: STEADY_RELEASE_PER_DAY,
      tanShare: ammoniaShare(USUAL_KEPT_SHARE),
      wasteShare: FAECES_SHARE,
    };
    this.prepare(moment, ([animals, ...others]) => [{ ...animals, ...steady }, ...others]);
    const nitrogenPerFood = proteinShare * NITROGEN_PER_PROTEIN;
    const volume = system.coefficients.cells.reduce((sum, cell) => sum + cell.volumeM3, 0);
    const excess = (foodGPerDay: number): number => {
      y.set(moment.y);
      y[system.gutIndex(0, 0)] = 0;
      y[system.gutIndex(0, 1)] = (foodGPerDay * nitrogenPerFood) / STEADY_RELEASE_PER_DAY;
      return this.overLimits(days, limits);
    };
    // No established aquarium processes 20 g N/m³ a day.
    return largest((20 * volume) / nitrogenPerFood, excess);
  }

  /** Sets the coefficients of a state: everything running, and only the food of the trial. */
  private prepare({ operating }: SampledState, guts: (of: Coefficients["guts"]) => Coefficients["guts"] = (same) => same): void {
    const evenFeeding = { eatenGNPerDay: 0, uneatenGNPerDay: 0 };
    const now = coefficients(this.aquarium, { ...asRunning(this.aquarium, operating), evenFeeding });
    this.system.setCoefficients({ ...now, guts: guts(now.guts) });
  }

  private leftOf(moment: SampledState, doseTanGPerM3: number, days: number, limits: Limits): number {
    const { y, system } = this;
    y.set(moment.y);
    for (const c of system.wiring.cells.keys()) {
      y[system.cellIndex(c, "tan")] += doseTanGPerM3;
      y[system.cellIndex(c, "alk")] += doseTanGPerM3 / NITROGEN_G_PER_MOL;
    }
    return this.overLimits(days, limits);
  }

  /**
   * Largest ratio of ammonia or nitrite in any display to its limit, some days after the state in `y`; infinity when
   * the integration fails.
   */
  private overLimits(days: number, limits: Limits): number {
    const { y, solver, system } = this;
    solver.restart();
    if (solver.advance(0, days, y).status !== "finished") return Number.POSITIVE_INFINITY;
    return Math.max(
      ...this.aquarium.displayCells.map((c) =>
        Math.max(y[system.cellIndex(c, "tan")] / limits.tanGPerM3, y[system.cellIndex(c, "no2")] / limits.no2GPerM3),
      ),
    );
  }
}

/** Constant bulk water over a film. */
export interface Bulk {
  readonly tanGPerM3: number;
  readonly no2GPerM3: number;
  readonly o2GPerM3: number;
  readonly temperatureC: number;
  readonly salinityGPerKg: number;
  readonly ph: number;
  readonly alkalinityEqPerM3: number;
  /** Dissolved organics for heterotrophs [g COD/m³]; zero when absent. */
  readonly organicsGPerM3?: number;
}

/** Nitrogen conversion of a film [g N/m²/d]. */
export interface Flux {
  readonly tan: number;
  readonly no2: number;
}

/** A volume so large that the film cannot change its water [m³ over 1 m²]. */
const ENDLESS_M3 = 1e9;
/** Time to a steady state of the water in a film [d], which turns over in seconds to minutes. */
const TO_STEADY_WATER_DAYS = 0.02;

/** One square metre of film under constant bulk water. */
export class FilmAlone {
  readonly system: NitrogenSystem;
  /** State at the end of the last query. */
  readonly y: Float64Array;
  private readonly solver: StiffSolver;

  constructor(film: Pick<FilmSpec, "filmM" | "waterM" | "boundaryM">, bulk: Bulk, parameters: ParameterValues) {
    this.system = new NitrogenSystem(
      {
        cells: [{ id: "water", name: "water" }],
        films: [{ id: "film", name: "film", cell: 0, ...film }],
        ways: [],
        gasCells: [],
        guts: [],
      },
      parameters,
    );
    const plain = this.system.coefficients;
    this.system.setCoefficients({
      ...plain,
      cells: [{ ...plain.cells[0], volumeM3: ENDLESS_M3, temperatureC: bulk.temperatureC }],
      salinityGPerKg: bulk.salinityGPerKg,
    });
    this.y = new Float64Array(this.system.size);
    const constants = carbonateConstants(bulk.temperatureC, bulk.salinityGPerKg);
    const values = {
      tan: bulk.tanGPerM3,
      no2: bulk.no2GPerM3,
      o2: bulk.o2GPerM3,
      ss: bulk.organicsGPerM3 ?? 0,
      alk: bulk.alkalinityEqPerM3,
      dic: dicMolPerM3(constants, bulk.ph, bulk.alkalinityEqPerM3, bulk.tanGPerM3 / NITROGEN_G_PER_MOL),
    };
    for (const [name, value] of Object.entries(values) as [keyof typeof values, number][])
      this.y[this.system.cellIndex(0, name)] = value;
    for (const name of ["tan", "no2", "o2", "ss"] as const) this.y[this.system.filmIndex(0, name)] = values[name];
    this.solver = new StiffSolver(this.system, { tolerances: { relative: 1e-6, absolute: 1e-9 } });
  }

  /** Uptake of a given biofilm stock without growth. */
  flux(stock: Stock): Flux {
    for (const guild of guilds) this.y[this.system.filmIndex(0, guild)] = stock[guild];
    return this.after(TO_STEADY_WATER_DAYS);
  }

  /**
   * Uptake after the bacteria have grown in this water for some time, by default until they are in a steady state, and
   * their stock.
   */
  settled(days = 600, from: Stock = eachGuild(() => 0.01)): Flux & { readonly stock: Stock } {
    this.flux(from);
    const flux = this.after(days);
    return { ...flux, stock: eachGuild((guild) => this.y[this.system.filmIndex(0, guild)]) };
  }

  private after(days: number): Flux {
    this.solver.restart();
    const outcome = this.solver.advance(0, days, this.y);
    if (outcome.status === "failed") throw new GaveUpError("the steady state of the film could not be computed", outcome);
    return { tan: this.system.ammoniaOxidation(this.y, 0), no2: this.system.nitriteOxidation(this.y, 0) };
  }
}
