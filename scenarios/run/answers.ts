// Everything that can be asked of one scenario: each part is worked out when it is first asked for, and once.

import { faultMatrix } from "../../models/hydraulics/planning/fault-matrix.ts";
import { slowDrift } from "../../models/hydraulics/planning/unattended.ts";
import type { FaultMatrix, OutageRun } from "../../models/hydraulics/types.ts";
import type { BiofilmStock } from "../../models/nitrogen/tank/biofilm-stock.ts";
import { outageClocks } from "../../models/outage/clocks.ts";
import { stagnantHeaterWarning } from "../../models/outage/temperature.ts";
import { GaveUpError } from "../../sim/integrators/outcome.ts";
import type { ResolvedScenario } from "../build/build.ts";
import { ScenarioFormatter } from "../build/scenario-formatter.ts";
import { closedFilterFindings } from "../findings/closed-filters.ts";
import { capacityFinding, cycleFindings, peakFindings } from "../findings/cycle.ts";
import { evaporationFinding, faultFindings, hydraulicFindings } from "../findings/hydraulics.ts";
import { aftermathFinding, drownedFindings, outageFindings, runTrials } from "../findings/outage.ts";
import { plannedCutFindings } from "../findings/planned-outages.ts";
import { shockFindings } from "../findings/shocks.ts";
import { spreadingFindings } from "../findings/spreading.ts";
import { stockingFindings } from "../findings/stocking.ts";
import { maintenanceFindings } from "../findings/upkeep.ts";
import { waterFindings } from "../findings/water.ts";
import { type CoupledModel, nitrogenSetup } from "../model/compile.ts";
import { type MemberChallengeResult, nominalSample, prepareBaseCase, runSample } from "../model/members.ts";
import { CLEARED_NO2, CLEARED_TAN, capacityAt, readiness } from "../model/readiness.ts";
import { type CachedFaults, type FaultsFound, reuseFaults } from "../report/cached-faults.ts";
import { faultAnswers, hydraulicAnswers } from "../report/hydraulic-answers.ts";
import { faultResult } from "../report/hydraulic-report.ts";
import type { Statement } from "../result/statement.ts";

/** A run that could not be finished, in plain words. */
export class RunFailure extends Error {}

const LIKELY = { outputsPerDay: 8, relative: 1e-4 } as const;
/** Longest list of output points; longer runs are sampled more thinly. */
const MOST_POINTS = 1500;
/** How long nobody looks after the water, for the evaporation [d]. */
const UNATTENDED_DAYS = 14;

export interface AnswerSettings {
  /** Work out every fault and pair. */
  readonly matrix: boolean;
  /** Without `matrix`: an earlier run whose faults and marks stand in. */
  readonly cachedFaults?: CachedFaults;
  /** Days on which it is ready with a lucky and an unlucky seed, null when not within the run; the likely day when absent. */
  readonly spread?: () => readonly [number | null, number | null];
  /** The story of the plain power cut, where it was told before. */
  readonly story?: () => OutageRun;
  /** The settled colony, where it was computed before. */
  readonly mature?: (compute: () => BiofilmStock) => BiofilmStock;
  /** The matrix, where it is worked out by the caller. */
  readonly faultMatrix?: () => FaultMatrix | null;
  readonly onFaults?: (done: number, of: number) => void;
}

/** Makes a part when it is first asked for. */
function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

export class Answers {
  readonly coupled: CoupledModel;
  readonly resolved: ResolvedScenario;
  readonly words: ScenarioFormatter;
  readonly proof: MemberChallengeResult;
  private readonly settings: AnswerSettings;

  constructor(coupled: CoupledModel, settings: AnswerSettings) {
    this.coupled = coupled;
    this.settings = settings;
    const { resolved } = coupled;
    this.resolved = resolved;
    this.words = new ScenarioFormatter(resolved);
    this.proof = { times: resolved.ask.times, withinDays: resolved.ask.withinDays, tan: CLEARED_TAN, no2: CLEARED_NO2 };
  }

  readonly story = once(() => this.settings.story?.() ?? this.coupled.simulator.simulate());
  readonly setup = once(() => nitrogenSetup(this.coupled, this.story()));
  readonly ground = once(() => prepareBaseCase(this.setup(), this.settings.mature));
  /** The likely run. @throws GaveUpError when it gives up */
  readonly run = once(() => {
    const outputsPerDay = Math.max(1, Math.min(LIKELY.outputsPerDay, Math.floor(MOST_POINTS / this.resolved.management.days)));
    const run = runSample(this.ground(), nominalSample(this.setup()), { ...LIKELY, outputsPerDay, proof: this.proof });
    if (run.outcome.status === "failed") throw new GaveUpError(`the run stopped on day ${run.outcome.t.toFixed(2)}`, run.outcome);
    return run;
  });
  readonly ready = once(() => readiness(this.run(), this.resolved.ask, this.resolved.fishless));
  readonly capacity = once(() => capacityAt(this.run(), this.ready().index));
  readonly tried = once(() => runTrials(this.setup(), this.run(), this.resolved.outage));
  readonly clocks = once(() => outageClocks(this.setup().rest, this.resolved.outage, this.tried()));
  readonly matrix = once((): FaultMatrix | null => {
    const { matrix, onFaults } = this.settings;
    if (!matrix) return null;
    return this.settings.faultMatrix?.() ?? faultMatrix(this.resolved.rig, onFaults);
  });
  readonly hydraulics = once(() => hydraulicAnswers(this.coupled, this.story(), this.matrix()));
  readonly faults = once((): FaultsFound => {
    const { cachedFaults } = this.settings;
    const { rig } = this.resolved;
    const matrix = this.matrix();
    if (!matrix && cachedFaults) return reuseFaults(cachedFaults, this.resolved);
    const answers = faultAnswers(rig, this.story(), matrix);
    const findings = faultFindings(rig, answers);
    if (matrix) findings.push(evaporationFinding(slowDrift(rig, UNATTENDED_DAYS), rig.topOff !== null));
    return { result: faultResult(rig, answers), findings, remedies: answers.remedies };
  });
  readonly spread = once(() => this.settings.spread?.() ?? ([this.ready().day, this.ready().day] as const));
}

/** What finds sentences, in the order in which they are told. */
export const finders: readonly ((a: Answers) => readonly Statement[])[] = [
  (a) =>
    a.resolved.fishless
      ? cycleFindings(a.words, a.run(), a.ready(), a.capacity(), ...a.spread())
      : [capacityFinding(a.run(), a.capacity())],
  (a) => peakFindings(a.words, a.run()),
  (a) => stockingFindings(a.run()),
  (a) => hydraulicFindings(a.hydraulics(), a.faults().remedies),
  (a) => a.faults().findings,
  (a) => plannedCutFindings(a.run()),
  (a) => aftermathFinding(a.setup(), a.resolved.outage, a.run(), a.tried()),
  (a) => closedFilterFindings(a.setup(), a.resolved.outage, a.tried()),
  (a) => drownedFindings(a.setup().rest),
  (a) => outageFindings(a.clocks(), a.resolved.outage, stagnantHeaterWarning(a.setup().rest, a.resolved.outage)),
  (a) => shockFindings(a.run()),
  (a) => waterFindings(a.run()),
  (a) => spreadingFindings(a.run().aquarium),
  (a) => maintenanceFindings(a.run()),
];
