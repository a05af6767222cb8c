// A run in progress. The numeric state, the operating state, the pending events and the records are separate, and each
// changes only through the methods here.

import type { AcceptedStep } from "../../../sim/integrators/integrator.ts";
import type { Outcome } from "../../../sim/integrators/outcome.ts";
import type { RunStatistics } from "../../../sim/integrators/problem.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { guilds, nitrifiers } from "../kinetics/guilds.ts";
import { inventory, Ledger } from "../reactor/inventory.ts";
import { loadAtBlinded, type SolidsState } from "../reactor/solids.ts";
import { NitrogenSystem } from "../reactor/system.ts";
import type { BiofilmStock } from "../tank/biofilm-stock.ts";
import { coefficients } from "../tank/coefficients.ts";
import type { NitrogenModel } from "../tank/nitrogen-model.ts";
import { type Adjustment, initialOperatingState, type OperatingState, wettedAreas } from "../tank/operating-state.ts";
import { fill, setFilmArea } from "../tank/operations.ts";
import type { Snapshot } from "../tank/snapshot.ts";
import { EventQueue } from "./event-queue.ts";
import type { OutageRecord } from "./outage-record.ts";
import type { WaterHeat } from "./water-heat.ts";

const MOST_STEPS = 200_000;

/** Something that was done or happened, for the event rail above the charts. */
export interface TimelineEntry {
  readonly day: number;
  readonly kind: string;
  readonly label: string;
}

type Beginning = Pick<Snapshot, "y" | "operating" | "solids" | "chlorideGPerM3">;

export class RunState {
  readonly aquarium: NitrogenModel;
  /** The equations with the coefficients of the present operating state. */
  readonly system: NitrogenSystem;
  readonly ledger = new Ledger();
  /** Ledger of the inert solids [g], as `ledger` is of nitrogen. */
  readonly solidsLedger = new Ledger();
  readonly marks: TimelineEntry[] = [];
  readonly eventQueue = new EventQueue();
  chlorideGPerM3: number;
  /** Heat balance of the running water; null = the water stays at its set-point. */
  heat: WaterHeat | null = null;
  /** The outage that is being recorded, and all earlier ones. */
  outageRecord: OutageRecord | null = null;
  readonly cuts: OutageRecord[] = [];

  private readonly state: Float64Array;
  private readonly solver: StiffSolver;
  private present: OperatingState;
  private lying: SolidsState;
  /** Whether the state or the equations have changed discontinuously since the solver stopped. */
  private jumped = false;

  private constructor(aquarium: NitrogenModel, begin: Beginning, relativeTolerance: number) {
    const { layout, parameters } = aquarium;
    this.aquarium = aquarium;
    this.state = begin.y;
    this.present = begin.operating;
    this.lying = begin.solids;
    this.chlorideGPerM3 = begin.chlorideGPerM3;
    this.system = new NitrogenSystem(layout.wiring, parameters, coefficients(aquarium, begin.operating));
    this.solver = new StiffSolver(this.system, {
      tolerances: { relative: relativeTolerance, absolute: layout.absoluteTolerances() },
      maxSteps: MOST_STEPS,
    });
  }

  /** Fresh water with a given biofilm stock, everything running. */
  static fresh(aquarium: NitrogenModel, biofilm: BiofilmStock, relativeTolerance: number): RunState {
    const { layout, management, rig, cells } = aquarium;
    const run = new RunState(
      aquarium,
      {
        y: new Float64Array(layout.size),
        operating: initialOperatingState(aquarium),
        solids: {
          inertG: cells.map(() => 0),
          unweighedLoad: rig.towers.map((tower) => loadAtBlinded(tower.prefilter?.blindedShare ?? 0)),
        },
        chlorideGPerM3: management.start.chlorideGPerM3,
      },
      relativeTolerance,
    );
    fill(run.system, run.state, management.start);
    biofilm.forEach((stock, f) => {
      for (const guild of guilds) run.state[layout.filmIndex(f, guild)] = stock[guild];
    });
    // What died of the seed lies as waste in the water of its film.
    const dead = management.seed.deadPerLiving ?? 0;
    if (dead > 0)
      biofilm.forEach((stock, f) => {
        const { cell } = layout.wiring.films[f];
        const grams = dead * nitrifiers.reduce((sum, guild) => sum + stock[guild], 0) * run.system.coefficients.films[f].areaM2;
        run.state[layout.cellIndex(cell, "xs")] += grams / run.system.coefficients.cells[cell].volumeM3;
      });
    return run;
  }

  /** Continues from a snapshot taken while everything ran, without pending events. */
  static from(aquarium: NitrogenModel, snapshot: Snapshot, relativeTolerance: number): RunState {
    const operating = { ...snapshot.operating, evenFeeding: { eatenGNPerDay: 0, uneatenGNPerDay: 0 } };
    return new RunState(aquarium, { ...snapshot, operating, y: Float64Array.from(snapshot.y) }, relativeTolerance);
  }

  /** The state vector; only `alter` and `book` change it. */
  get y(): Readonly<Float64Array> {
    return this.state;
  }

  /** The present operating state; only `operate` changes it. */
  get operating(): OperatingState {
    return this.present;
  }

  /** Inert solids and unweighed loads of pads; only `setSolids` changes them. */
  get solids(): SolidsState {
    return this.lying;
  }

  get statistics(): RunStatistics {
    return this.solver.statistics;
  }

  snapshot(day: number): Snapshot {
    const { operating, solids, chlorideGPerM3 } = this;
    return { day, y: Float64Array.from(this.state), operating, solids, chlorideGPerM3 };
  }

  /** Concentration of a substance in the first display [g N/m³; alkalinity eq/m³]. */
  inDisplay(substance: "tan" | "no2" | "alk"): number {
    const { layout, displayCells } = this.aquarium;
    return this.state[layout.cellIndex(displayCells[0], substance)];
  }

  /** Integrates from one day to another. The solver restarts where the state or the equations have changed discontinuously. */
  advance(fromDay: number, toDay: number, onStep: (step: AcceptedStep) => undefined): Outcome {
    if (this.jumped) this.solver.restart();
    this.jumped = false;
    return this.solver.advance(fromDay, toDay, this.state, onStep);
  }

  /** Changes the state vector where no nitrogen enters or leaves. */
  alter(act: (y: Float64Array) => void): void {
    this.jumped = true;
    act(this.state);
  }

  /** Changes the state vector, with `operate` if needed, and books the nitrogen that entered or left. */
  book(label: string, act: (y: Float64Array) => void): void {
    const before = inventory(this.system, this.state).total;
    this.alter(act);
    this.ledger.add(label, inventory(this.system, this.state).total - before);
  }

  /** Changes the operating state, and the equations with it. */
  operate(changes: Partial<OperatingState>): void {
    this.jumped = true;
    this.present = { ...this.present, ...changes };
    this.system.setCoefficients(coefficients(this.aquarium, this.present));
  }

  /** Changes the coefficients for one kind of event, instead of what it changed before; null = no longer. */
  adjust(kind: string, adjustment: Adjustment | null): void {
    const { [kind]: _, ...others } = this.present.adjustments;
    this.operate({ adjustments: adjustment ? { ...others, [kind]: adjustment } : others });
  }

  /** Forces the wetted share of each tower (null: from its distribution), and adapts the films. */
  wet(wettedShare: OperatingState["wettedShare"]): void {
    const areasM2 = wettedAreas(this.aquarium, { wettedShare });
    this.alter((y) => {
      areasM2.forEach((area, f) => {
        setFilmArea(this.system, y, f, area);
      });
    });
    this.operate({ wettedShare });
  }

  setSolids(changes: Partial<SolidsState>): void {
    this.lying = { ...this.lying, ...changes };
  }

  mark(day: number, kind: string, label: string): void {
    this.marks.push({ day, kind, label });
  }
}
