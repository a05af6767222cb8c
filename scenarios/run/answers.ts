// Everything that can be asked of one scenario: each part is worked out when it is first asked for, and once.
import { faultMatrix } from "../../models/hydraulics/planning/fault-matrix.ts";
import { slowDrift } from "../../models/hydraulics/planning/unattended.ts";
import type { FaultMatrix, Story } from "../../models/hydraulics/types.ts";
import type { Colony } from "../../models/nitrogen/tank/biofilm-stock.ts";
import { outageClocks } from "../../models/outage/clocks.ts";
import { stagnantHeaterWarning } from "../../models/outage/temperature.ts";
import type { Built } from "../build/build.ts";
import { Words } from "../build/scenario-formatter.ts";
import { closedFilterFindings } from "../findings/closed-filters.ts";
import { capacityFinding, cycleFindings, peakFindings } from "../findings/cycle.ts";
import { evaporationFinding, faultFindings, hydraulicFindings } from "../findings/hydraulics.ts";
import { aftermathFinding, drownedFindings, outageFindings, triedOn } from "../findings/outage.ts";
import { plannedCutFindings } from "../findings/planned-outages.ts";
import { shockFindings } from "../findings/shocks.ts";
import { spreadingFindings } from "../findings/spreading.ts";
import { stockingFindings } from "../findings/stocking.ts";
import { upkeepFindings } from "../findings/upkeep.ts";
import { waterFindings } from "../findings/water.ts";
import { type Compiled, nitrogenSetup } from "../model/compile.ts";
import { groundOf, likelySample, type Proof, runSample } from "../model/members.ts";
import { CLEARED_NO2, CLEARED_TAN, capacityAt, readiness } from "../model/readiness.ts";
import { type Earlier, type FaultsFound, takenOver } from "../report/cached-faults.ts";
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
  readonly earlier?: Earlier;
  /** Days on which it is ready with a lucky and an unlucky seed, null when not within the run; the likely day when absent. */
  readonly spread?: () => readonly [number | null, number | null];
  /** The story of the plain power cut, where it was told before. */
  readonly story?: () => Story;
  /** The settled colony, where it was computed before. */
  readonly mature?: (compute: () => Colony) => Colony;
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
  readonly compiled: Compiled;
  readonly built: Built;
  readonly words: Words;
  readonly proof: Proof;
  private readonly settings: AnswerSettings;

  constructor(compiled: Compiled, settings: AnswerSettings) {
    this.compiled = compiled;
    this.settings = settings;
    const { built } = compiled;
    this.built = built;
    this.words = new Words(built);
    this.proof = { times: built.ask.times, withinDays: built.ask.withinDays, tan: CLEARED_TAN, no2: CLEARED_NO2 };
  }

  readonly story = once(() => this.settings.story?.() ?? this.compiled.teller.tell());
  readonly setup = once(() => nitrogenSetup(this.compiled, this.story()));
  readonly ground = once(() => groundOf(this.setup(), this.settings.mature));
  /** The likely run. @throws RunFailure when it gives up */
  readonly run = once(() => {
    const outputsPerDay = Math.max(1, Math.min(LIKELY.outputsPerDay, Math.floor(MOST_POINTS / this.built.husbandry.days)));
    const run = runSample(this.ground(), likelySample(this.setup()), { ...LIKELY, outputsPerDay, proof: this.proof });
    if (run.outcome.status === "failed")
      throw new RunFailure(`The run stopped on day ${run.outcome.t.toFixed(2)}: ${run.outcome.message}`);
    return run;
  });
  readonly ready = once(() => readiness(this.run(), this.built.ask, this.built.fishless));
  readonly capacity = once(() => capacityAt(this.run(), this.ready().index));
  readonly tried = once(() => triedOn(this.setup(), this.run(), this.built.outage));
  readonly clocks = once(() => outageClocks(this.setup().rest, this.built.outage, this.tried()));
  readonly matrix = once((): FaultMatrix | null => {
    const { matrix, onFaults } = this.settings;
    if (!matrix) return null;
    return faultMatrix(this.built.rig, (done, of) => {
      onFaults?.(done, of);
      return true;
    });
  });
  readonly hydraulics = once(() => hydraulicAnswers(this.compiled, this.story(), this.matrix()));
  readonly faults = once((): FaultsFound => {
    const { earlier } = this.settings;
    const { rig } = this.built;
    const matrix = this.matrix();
    if (!matrix && earlier) return takenOver(earlier, this.built);
    const answers = faultAnswers(rig, this.story(), matrix);
    const findings = faultFindings(rig, answers);
    if (matrix) findings.push(evaporationFinding(slowDrift(rig, UNATTENDED_DAYS), rig.topOff !== null));
    return { result: faultResult(rig, answers), findings };
  });
  readonly spread = once(() => this.settings.spread?.() ?? ([this.ready().day, this.ready().day] as const));
}

/** What finds sentences, in the order in which they are told. */
export const finders: readonly ((a: Answers) => readonly Statement[])[] = [
  (a) =>
    a.built.fishless
      ? cycleFindings(a.words, a.run(), a.ready(), a.capacity(), ...a.spread())
      : [capacityFinding(a.run(), a.capacity())],
  (a) => peakFindings(a.words, a.run()),
  (a) => stockingFindings(a.run()),
  (a) => hydraulicFindings(a.hydraulics()),
  (a) => a.faults().findings,
  (a) => plannedCutFindings(a.run()),
  (a) => aftermathFinding(a.setup(), a.built.outage, a.run(), a.tried()),
  (a) => closedFilterFindings(a.setup(), a.built.outage, a.tried()),
  (a) => drownedFindings(a.setup().rest),
  (a) => outageFindings(a.clocks(), a.built.outage, stagnantHeaterWarning(a.setup().rest, a.built.outage)),
  (a) => shockFindings(a.run()),
  (a) => waterFindings(a.run()),
  (a) => spreadingFindings(a.run().aquarium),
  (a) => upkeepFindings(a.run()),
];
