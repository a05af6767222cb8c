// An aquarium as it stands while its days go by: the state, how it is kept, what has been booked, and what is still to be done.

import { ammoniaShare, carcassDecayPerDay, FAECES_SHARE, gutStageRatePerDay } from "../../life/excretion.ts";
import { guilds } from "../kinetics/guilds.ts";
import { Ledger } from "../reactor/inventory.ts";
import type { BiofilmStock } from "../tank/biofilm-stock.ts";
import { applyOperatingState } from "../tank/coefficients.ts";
import type { NitrogenModel } from "../tank/nitrogen-model.ts";
import { initialOperatingState, type OperatingState, wettedAreas } from "../tank/operating-state.ts";
import { fill, recordInLedger, setFilmArea } from "../tank/operations.ts";
import type { Snapshot } from "../tank/snapshot.ts";
import { EventQueue } from "./event-queue.ts";
import type { OutageRecord } from "./outage-record.ts";

/** Of a dead animal's nitrogen: what is given off as ammonia; the rest as waste (modelling assumption). */
const CARCASS_TAN_SHARE = 0.3;

/** Something done or come to pass, for the rail above the charts. */
export interface TimelineEntry {
  readonly day: number;
  readonly kind: string;
  readonly label: string;
}

export class RunState {
  readonly aquarium: NitrogenModel;
  readonly y: Float64Array;
  readonly operating: OperatingState;
  readonly ledger = new Ledger();
  /** Books of the inert solids [g], as the ledger is of nitrogen. */
  readonly solids = new Ledger();
  readonly marks: TimelineEntry[] = [];
  readonly moments = new EventQueue();
  chlorideGPerM3: number;
  /** Set by whatever makes the state or the equations jump, so that the solver starts afresh only then. */
  discontinuous = false;

  /** The cut that is being watched, and those before it. */
  watched: OutageRecord | null = null;
  readonly cuts: OutageRecord[] = [];

  private constructor(aquarium: NitrogenModel, y: Float64Array, operating: OperatingState, chlorideGPerM3: number) {
    const { system, exchange } = aquarium;
    this.aquarium = aquarium;
    this.y = y;
    this.operating = operating;
    this.chlorideGPerM3 = chlorideGPerM3;
    const { films, guts } = system.conditions;
    wettedAreas(aquarium, operating).forEach((area, f) => {
      films[f].areaM2 = area;
    });
    Object.assign(guts[0], { tanShare: ammoniaShare(), wasteShare: FAECES_SHARE });
    Object.assign(guts[1], { tanShare: CARCASS_TAN_SHARE, wasteShare: 1 - CARCASS_TAN_SHARE });
    this.applyConditions(exchange.volumesM3);
  }

  /** Fresh water and the colony there is, everything running. */
  static fresh(aquarium: NitrogenModel, biofilm: BiofilmStock): RunState {
    const { system, management } = aquarium;
    const y = new Float64Array(system.size);
    const runState = new RunState(aquarium, y, initialOperatingState(aquarium), management.start.chlorideGPerM3);
    fill(system, y, management.start);
    biofilm.forEach((stock, f) => {
      for (const guild of guilds) y[system.filmIndex(f, guild)] = stock[guild];
    });
    return runState;
  }

  /** Goes on from a snapshot taken while everything ran, with nothing more planned. */
  static from(aquarium: NitrogenModel, { y, operating, chlorideGPerM3 }: Snapshot): RunState {
    return new RunState(aquarium, Float64Array.from(y), structuredClone(operating), chlorideGPerM3);
  }

  snapshot(day: number): Snapshot {
    const { y, operating, chlorideGPerM3 } = this;
    return { day, y: Float64Array.from(y), operating: structuredClone(operating), chlorideGPerM3 };
  }

  /** A substance in the first display's water. */
  inDisplay(substance: "tan" | "no2"): number {
    const { system, displayCells } = this.aquarium;
    return this.y[system.cellIndex(displayCells[0], substance)];
  }

  /** Changes the state and books what nitrogen came or went under a label. */
  book(label: string, act: () => void): void {
    this.discontinuous = true;
    recordInLedger(this.aquarium.system, this.y, this.ledger, label, act);
  }

  /** Changes how the aquarium is kept, and with it the conditions. */
  change(act: () => void): void {
    this.discontinuous = true;
    act();
    this.applyConditions(this.aquarium.system.conditions.cells.map((cell) => cell.volumeM3));
  }

  /** Leaves the conditions of a tank that runs, for questions asked of it later, also when the days end in a cut. The state stays. */
  leaveRunning(): void {
    const { operating, aquarium } = this;
    if (operating.running) return;
    Object.assign(operating, { running: true, dark: false, temperatureC: operating.temperatureC.map(() => operating.setpointC) });
    this.applyConditions(aquarium.exchange.volumesM3);
  }

  /** Lets the films follow the wetted area; within `change`. */
  rewet(): void {
    wettedAreas(this.aquarium, this.operating).forEach((area, f) => {
      setFilmArea(this.aquarium.system, this.y, f, area);
    });
  }

  mark(day: number, kind: string, label: string): void {
    this.marks.push({ day, kind, label });
  }

  private applyConditions(volumesM3: readonly number[]): void {
    const { guts } = this.aquarium.system.conditions;
    const displayC = this.operating.temperatureC[this.aquarium.displayCells[0]];
    guts[0].ratePerDay = gutStageRatePerDay(displayC);
    guts[1].ratePerDay = carcassDecayPerDay(displayC);
    applyOperatingState(this.aquarium, this.operating, volumesM3);
  }
}
