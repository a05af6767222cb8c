// An aquarium as it stands while its days go by: the state, how it is kept, what has been booked, and what is still to be done.
import {
  carcassDecayPerDay,
  FAECES_SHARE,
  gutStageRatePerDay,
  NITROGEN_PER_PROTEIN,
  TAN_PER_PROTEIN,
} from "../../life/excretion.ts";
import { Ledger } from "../reactor/inventory.ts";
import type { Colony } from "../tank/biofilm-stock.ts";
import { applyUpkeep } from "../tank/coefficients.ts";
import type { Aquarium } from "../tank/nitrogen-model.ts";
import { startingUpkeep, type Upkeep, wettedAreas } from "../tank/operating-state.ts";
import { booked, fill, setFilmArea } from "../tank/operations.ts";
import type { Snapshot } from "../tank/snapshot.ts";
import { Moments } from "./event-queue.ts";
import type { CutRecord } from "./outage-record.ts";

/** Of a dead animal's nitrogen: what is given off as ammonia; the rest as waste (modelling assumption). */
const CARCASS_TAN_SHARE = 0.3;

/** Something done or come to pass, for the rail above the charts. */
export interface Mark {
  readonly day: number;
  readonly kind: string;
  readonly label: string;
}

export class Keeping {
  readonly aquarium: Aquarium;
  readonly y: Float64Array;
  readonly upkeep: Upkeep;
  readonly ledger = new Ledger();
  /** Books of the inert solids [g], as the ledger is of nitrogen. */
  readonly solids = new Ledger();
  readonly marks: Mark[] = [];
  readonly moments = new Moments();
  chlorideGPerM3: number;
  /** Set by whatever makes the state or the equations jump, so that the solver starts afresh only then. */
  jumped = false;

  /** The cut that is being watched, and those before it. */
  watched: CutRecord | null = null;
  readonly cuts: CutRecord[] = [];

  private constructor(aquarium: Aquarium, y: Float64Array, upkeep: Upkeep, chlorideGPerM3: number) {
    const { system, exchange } = aquarium;
    this.aquarium = aquarium;
    this.y = y;
    this.upkeep = upkeep;
    this.chlorideGPerM3 = chlorideGPerM3;
    const { films, guts } = system.conditions;
    wettedAreas(aquarium, upkeep).forEach((area, f) => {
      films[f].areaM2 = area;
    });
    Object.assign(guts[0], { tanShare: TAN_PER_PROTEIN / NITROGEN_PER_PROTEIN, wasteShare: FAECES_SHARE });
    Object.assign(guts[1], { tanShare: CARCASS_TAN_SHARE, wasteShare: 1 - CARCASS_TAN_SHARE });
    this.applyConditions(exchange.volumesM3);
  }

  /** Fresh water and the colony there is, everything running. */
  static fresh(aquarium: Aquarium, colony: Colony): Keeping {
    const { system, husbandry } = aquarium;
    const y = new Float64Array(system.size);
    const keeping = new Keeping(aquarium, y, startingUpkeep(aquarium), husbandry.start.chlorideGPerM3);
    fill(system, y, husbandry.start);
    colony.forEach((stock, f) => {
      for (const guild of ["aob", "cmx", "nob", "het"] as const) y[system.filmIndex(f, guild)] = stock[guild];
    });
    return keeping;
  }

  /** Goes on from a snapshot taken while everything ran, with nothing more planned. */
  static from(aquarium: Aquarium, { y, upkeep, chlorideGPerM3 }: Snapshot): Keeping {
    return new Keeping(aquarium, Float64Array.from(y), structuredClone(upkeep), chlorideGPerM3);
  }

  snapshot(day: number): Snapshot {
    const { y, upkeep, chlorideGPerM3 } = this;
    return { day, y: Float64Array.from(y), upkeep: structuredClone(upkeep), chlorideGPerM3 };
  }

  /** A substance in the first display's water. */
  inDisplay(substance: "tan" | "no2"): number {
    const { system, displayCells } = this.aquarium;
    return this.y[system.cellIndex(displayCells[0], substance)];
  }

  /** Changes the state and books what nitrogen came or went under a label. */
  book(label: string, act: () => void): void {
    this.jumped = true;
    booked(this.aquarium.system, this.y, this.ledger, label, act);
  }

  /** Changes how the aquarium is kept, and with it the conditions. */
  change(act: () => void): void {
    this.jumped = true;
    act();
    this.applyConditions(this.aquarium.system.conditions.cells.map((cell) => cell.volumeM3));
  }

  /** Leaves the conditions of a tank that runs, for questions asked of it later, also when the days end in a cut. The state stays. */
  leaveRunning(): void {
    const { upkeep, aquarium } = this;
    if (upkeep.running) return;
    Object.assign(upkeep, { running: true, dark: false, temperatureC: upkeep.temperatureC.map(() => upkeep.setpointC) });
    this.applyConditions(aquarium.exchange.volumesM3);
  }

  /** Lets the films follow the wetted area; within `change`. */
  rewet(): void {
    wettedAreas(this.aquarium, this.upkeep).forEach((area, f) => {
      setFilmArea(this.aquarium.system, this.y, f, area);
    });
  }

  mark(day: number, kind: string, label: string): void {
    this.marks.push({ day, kind, label });
  }

  private applyConditions(volumesM3: readonly number[]): void {
    const { guts } = this.aquarium.system.conditions;
    const displayC = this.upkeep.temperatureC[this.aquarium.displayCells[0]];
    guts[0].ratePerDay = gutStageRatePerDay(displayC);
    guts[1].ratePerDay = carcassDecayPerDay(displayC);
    applyUpkeep(this.aquarium, this.upkeep, volumesM3);
  }
}
