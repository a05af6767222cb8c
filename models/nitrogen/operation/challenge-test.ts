// The challenge test of a fishless cycle: it checks after a day whether each dose is cleared, and decides on the next dose.
import { EQ_PER_M3_PER_DKH } from "../../water/molar-mass.ts";
import type { RunState } from "./run-state.ts";

/** Passed when this many doses in succession are cleared within the time, TAN and nitrite [g N/m³] both below these. */
export interface ChallengeResult {
  readonly times: number;
  readonly withinDays: number;
  readonly tan: number;
  readonly no2: number;
}

/**
 * After the test is passed, half the dose every other day maintains the bacteria until animals come (common practice,
 * no published source).
 */
const KEEPING_SHARE = 0.5;
const KEEPING_DAYS = 2;
/** A keeper who tests stops dosing below this alkalinity [eq/m³], 1 dKH (common practice, no published source). */
const LEAST_ALKALINITY = EQ_PER_M3_PER_DKH;

export class ChallengeTest {
  /** Day on which the test was passed; null before. */
  provenDay: number | null = null;
  private readonly runState: RunState;
  private readonly proof: ChallengeResult | undefined;
  private lastDoseDay: number | null = null;
  /** Whether the last dose has not been checked yet. */
  private pending = false;
  private passes = 0;

  constructor(runState: RunState, proof: ChallengeResult | undefined) {
    this.runState = runState;
    this.proof = proof;
  }

  /** Registers a dose: it is checked when its time is over, or when the next dose is due if that is later. */
  dosed(day: number): void {
    this.lastDoseDay = day;
    this.pending = true;
    const { proof, runState } = this;
    if (!proof || this.provenDay !== null) return;
    const until = day + proof.withinDays;
    if (until <= runState.aquarium.management.days) runState.eventQueue.at(until, () => this.look(until));
  }

  /** Checks the water: whether the last dose was cleared in time. */
  look(day: number): void {
    const { proof, runState, lastDoseDay } = this;
    if (!proof || this.provenDay !== null || lastDoseDay === null || !this.pending) return;
    if (day < lastDoseDay + 0.999 * proof.withinDays) return;
    this.pending = false;
    const gone = runState.inDisplay("tan") < proof.tan && runState.inDisplay("no2") < proof.no2;
    this.passes = gone ? this.passes + 1 : 0;
    if (this.passes >= proof.times) this.provenDay = day;
  }

  /** Share of the usual dose that a keeper gives on a day of the routine; 0 = none. */
  routineShare(day: number): number {
    if (this.runState.inDisplay("alk") < LEAST_ALKALINITY) return 0;
    if (this.provenDay === null) return 1;
    return this.lastDoseDay === null || day - this.lastDoseDay >= 0.999 * KEEPING_DAYS ? KEEPING_SHARE : 0;
  }
}
