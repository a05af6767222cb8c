// The keeper's own test of a fishless cycle: is the last dose gone when the next one is due?
import type { RunState } from "./run-state.ts";

/** Passed when so many doses running are gone within the time, TAN and nitrite [g N/m3] both below these. */
export interface ChallengeResult {
  readonly times: number;
  readonly withinDays: number;
  readonly tan: number;
  readonly no2: number;
}

export class ChallengeTest {
  /** Day on which the test was passed; null until then. */
  provenDay: number | null = null;
  private readonly runState: RunState;
  private readonly proof: ChallengeResult | undefined;
  private lastDoseDay: number | null = null;
  private passes = 0;

  constructor(runState: RunState, proof: ChallengeResult | undefined) {
    this.runState = runState;
    this.proof = proof;
  }

  dosed(day: number): void {
    this.lastDoseDay = day;
  }

  /** Looks at the water when a dose is due: was the last one gone in time? */
  look(day: number): void {
    const { proof, runState, lastDoseDay } = this;
    if (!proof || this.provenDay !== null || lastDoseDay === null) return;
    const gone = runState.inDisplay("tan") < proof.tan && runState.inDisplay("no2") < proof.no2;
    this.passes = gone && day - lastDoseDay <= proof.withinDays * 1.001 ? this.passes + 1 : 0;
    if (this.passes < proof.times) return;
    this.provenDay = day;
    runState.mark(day, "proof", "dose test passed");
  }
}
