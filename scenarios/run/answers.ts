// All answers about one scenario. Each part is computed on first use, and only once.

import { faultMatrix } from "../../models/hydraulics/planning/fault-matrix.ts";
import { simulateNeglect } from "../../models/hydraulics/planning/neglect.ts";
import { slowDrift } from "../../models/hydraulics/planning/unattended.ts";
import type { FaultMatrix, OutageRun } from "../../models/hydraulics/types.ts";
import type { Plan } from "../../models/nitrogen/events/all.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import type { BiofilmStock } from "../../models/nitrogen/tank/biofilm-stock.ts";
import { outageClocks } from "../../models/outage/clocks.ts";
import { firstBelowH, type OutageTrial } from "../../models/outage/outage-trial.ts";
import { displayOxygen, oxygenLimits } from "../../models/outage/oxygen-clock.ts";
import { restartTemperature } from "../../models/outage/restart-temperature.ts";
import { stagnantHeaterWarning } from "../../models/outage/temperature.ts";
import { GaveUpError } from "../../sim/integrators/outcome.ts";
import { closedFiltersAfter, fortnightOf, runTrials } from "../analysis/outage.ts";
import type { ResolvedScenario } from "../build/build.ts";
import { ScenarioFormatter } from "../build/scenario-formatter.ts";
import { airAndPhFindings } from "../findings/air-and-ph.ts";
import { breakHoleFindings } from "../findings/break-holes.ts";
import { calibrationFindings } from "../findings/calibration.ts";
import { closedFilterFindings } from "../findings/closed-filters.ts";
import { effectFinding, unfollowedFinding, waterChangeFindings } from "../findings/effects.ts";
import { heatFindings } from "../findings/heat.ts";
import { hoseFindings } from "../findings/hoses.ts";
import { evaporationFinding, faultFindings, hydraulicFindings } from "../findings/hydraulics.ts";
import { lossOfAnimals } from "../findings/loss.ts";
import { neglectFinding } from "../findings/neglect.ts";
import { aftermathFinding, type CutAsked, drownedFindings, outageFindings } from "../findings/outage.ts";
import { plannedCutFindings } from "../findings/planned-outages.ts";
import { reactorFindings } from "../findings/reactors.ts";
import {
  type Arrival,
  capacityFinding,
  cycleFindings,
  type FilterCapacity,
  peakFindings,
  stockedFinding,
  USUAL_PROTEIN,
} from "../findings/ready.ts";
import { restartFindings } from "../findings/restart-temperature.ts";
import { sequenceFindings } from "../findings/sequences.ts";
import { spreadingFindings } from "../findings/spreading.ts";
import { maintenanceFindings } from "../findings/upkeep.ts";
import { volumeFindings } from "../findings/volumes.ts";
import { waterFindings } from "../findings/water.ts";
import { type CoupledModel, nitrogenSetup } from "../model/compile.ts";
import { clustersOf, effectOf, planWithout, unfollowed } from "../model/incidents.ts";
import type { Spread } from "../model/likelihood.ts";
import {
  type MemberChallengeResult,
  type MemberQuestions,
  memberDetail,
  nominalSample,
  prepareBaseCase,
  runSample,
} from "../model/members.ts";
import { type Paired, pairedOf } from "../model/pairs.ts";
import {
  type Capacity,
  CLEARED_NO2,
  CLEARED_TAN,
  capacityAt,
  carriesAt,
  carriesWithout,
  halvesAfterDays,
  readiness,
} from "../model/readiness.ts";
import { type CachedFaults, type FaultsFound, reuseFaults } from "../report/cached-faults.ts";
import { faultAnswers, hydraulicAnswers } from "../report/hydraulic-answers.ts";
import { faultResult } from "../report/hydraulic-report.ts";
import type { Statement } from "../result/statement.ts";

/** A run that did not finish; the message is in plain words. */
export class RunFailure extends Error {}

const LIKELY = { outputsPerDay: 8, relative: 1e-4 } as const;
/** Largest number of output points; longer runs have a larger interval. */
const MOST_POINTS = 1500;
/** Period without attention for the evaporation [d]. */
const UNATTENDED_DAYS = 14;

export interface AnswerSettings {
  /** Whether to compute every fault and pair. */
  readonly matrix: boolean;
  /** Without `matrix`: an earlier run whose faults and fill levels are reused. */
  readonly cachedFaults?: CachedFaults;
  /** Uncertainty of the answers; null when only the likely run is requested. */
  readonly spread?: () => Spread | null;
  /** Values of the members that were also run without the incidents; see `createMember`. */
  readonly pairs?: () => readonly Float64Array[];
  /** Run of the plain outage, if already simulated. */
  readonly story?: () => OutageRun;
  /** The mature biofilm, from a cache or computed. */
  readonly mature?: (compute: () => BiofilmStock) => BiofilmStock;
  /** The fault matrix, if the caller computes it. */
  readonly faultMatrix?: () => FaultMatrix | null;
  readonly onFaults?: (done: number, of: number) => void;
}

/** Computes a part on first use. */
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

  readonly plainOutage = once(() => this.settings.story?.() ?? this.coupled.simulator.simulate());
  readonly setup = once(() => nitrogenSetup(this.coupled, this.plainOutage()));
  readonly baseCase = once(() => prepareBaseCase(this.setup(), this.settings.mature));
  /** The likely run. @throws GaveUpError when the integrator gives up */
  readonly run = once(() => {
    const outputsPerDay = Math.max(1, Math.min(LIKELY.outputsPerDay, Math.floor(MOST_POINTS / this.resolved.management.days)));
    const run = runSample(this.baseCase(), nominalSample(this.setup()), { ...LIKELY, outputsPerDay, proof: this.proof });
    if (run.outcome.status === "failed") throw new GaveUpError(`the run stopped on day ${run.outcome.t.toFixed(2)}`, run.outcome);
    return run;
  });
  readonly ready = once(() => readiness(this.run(), this.resolved.ask, this.resolved.fishless));
  readonly capacity = once((): Capacity => capacityAt(this.run(), this.ready().index));
  /**
   * The likely case with even feeding, at the accuracy of the members of a band, so that members differ from it only in
   * the uncertain inputs.
   */
  readonly even = once(() =>
    runSample(this.baseCase(), nominalSample(this.setup()), { ...memberDetail, proof: this.proof }, { evenFeeding: true }),
  );
  readonly clusters = once(() => clustersOf(this.resolved.management));
  /** Effect of each cluster of incidents, compared with the same plan without it. */
  readonly effects = once(() => {
    const loss = lossOfAnimals(this.run());
    return this.clusters()
      .map((cluster, n) => ({ cluster, n }))
      .filter(({ cluster }) => loss === null || cluster.from < Math.floor(loss.day))
      .map(({ cluster, n }) => ({
        n,
        effect: effectOf(cluster, this.resolved.management, this.run(), (management) => this.again(management)),
      }));
  });
  /** The questions that every member answers. */
  readonly questions = once((): MemberQuestions => {
    const { days } = this.resolved.management;
    return {
      ask: this.resolved.fishless ? this.resolved.ask : null,
      capacityDay: days,
      windows: [[0, days], ...this.clusters().map(({ from, until }) => [from, until] as const)],
    };
  });
  /** When the first animals are in the water, and their food; null without animals. */
  readonly arrival = once((): Arrival | null => {
    const { groups, days } = this.resolved.management;
    if (groups.length === 0) return null;
    const day = Math.min(...groups.map(({ arrivesDay }) => arrivesDay));
    if (day > days) return null;
    const first = groups.filter(({ arrivesDay }) => arrivesDay === day);
    const foodGPerDay = first.reduce((sum, group) => sum + group.foodGPerDay, 0);
    const protein = first.reduce((sum, group) => sum + group.foodGPerDay * group.proteinShare, 0);
    const next = this.clusters().find(({ from }) => from > day)?.from ?? days;
    return { day, foodGPerDay, proteinShare: foodGPerDay > 0 ? protein / foodGPerDay : USUAL_PROTEIN, until: next };
  });
  readonly handling = once((): FilterCapacity => {
    const run = this.run();
    const { seed } = this.resolved.management;
    const { index, day } = this.ready();
    return {
      carriesGNPerDay: this.capacity().carriesGNPerDay,
      atStartGNPerDay: seed.likely >= SEEDED_SHARE ? carriesWithout(run, 0) : null,
      halvesAfterDays: day === null || this.resolved.management.groups.length > 0 ? null : halvesAfterDays(run, index),
    };
  });
  readonly outageTrial = once(() => runTrials(this.setup(), this.run(), this.resolved.outage));
  readonly fortnight = once(() => fortnightOf(this.setup(), this.resolved.outage, this.run(), this.outageTrial()));
  readonly closedFilters = once(() => closedFiltersAfter(this.setup(), this.resolved.outage, this.outageTrial()));
  readonly clocks = once(() => outageClocks(this.setup().rest, this.resolved.outage, this.outageTrial()));
  readonly matrix = once((): FaultMatrix | null => {
    const { matrix, onFaults } = this.settings;
    if (!matrix) return null;
    return this.settings.faultMatrix?.() ?? faultMatrix(this.resolved.rig, onFaults);
  });
  readonly hydraulics = once(() => hydraulicAnswers(this.coupled, this.plainOutage(), this.matrix()));
  readonly faults = once((): FaultsFound => {
    const { cachedFaults } = this.settings;
    const { rig } = this.resolved;
    const matrix = this.matrix();
    if (!matrix && cachedFaults) return reuseFaults(cachedFaults, this.resolved);
    const answers = faultAnswers(rig, this.plainOutage(), matrix);
    const findings = faultFindings(rig, answers);
    if (matrix) findings.push(evaporationFinding(slowDrift(rig, UNATTENDED_DAYS), rig.topOff !== null));
    return {
      result: faultResult(rig, answers),
      findings: findings.map((finding) => ({ ...finding, ofRig: true })),
      remedies: answers.remedies,
    };
  });
  readonly spread = once(() => this.settings.spread?.() ?? null);
  /** For each effect, what pairs of members say of it; null where there are none. */
  readonly paired = once((): readonly (Paired | null)[] => {
    const pairs = this.settings.pairs?.() ?? [];
    if (pairs.length === 0) return this.effects().map(() => null);
    return this.effects().map(({ n, effect: { cluster, run, twin } }) => {
      const management = planWithout(cluster, cluster.incidents, this.resolved.management);
      const ground = { ...this.baseCase(), setup: { ...this.setup(), management } };
      const evenTwin = runSample(
        ground,
        nominalSample(this.setup()),
        { ...memberDetail, proof: this.proof },
        { evenFeeding: true },
      );
      return pairedOf(pairs, this.questions(), cluster, n, { run, even: this.even(), twin, evenTwin });
    });
  });
  readonly cutAsked = once((): CutAsked => {
    const cut = this.resolved.outage;
    const { from, aquarium } = this.outageTrial();
    const { groups } = from.operating;
    const limit = Math.max(0, ...groups.map(({ kind }) => oxygenLimits(kind, aquarium.rig.salinityGPerKg).redGPerM3));
    const dies = ({ likely }: OutageTrial): number | null =>
      firstBelowH(likely, displayOxygen(likely, aquarium.displayCells), limit);
    return {
      cut,
      diesAfterH: limit === 0 ? null : dies(this.outageTrial()),
      withAir: once(() => (limit === 0 ? null : dies(runTrials(this.setup(), this.run(), { ...cut, batteryAir: true })))),
    };
  });

  /** The likely case of a changed plan, with the accuracy of the likely run. */
  private again(management: Plan): Run {
    const { days } = this.resolved.management;
    const outputsPerDay = Math.max(1, Math.min(LIKELY.outputsPerDay, Math.floor(MOST_POINTS / days)));
    const ground = { ...this.baseCase(), setup: { ...this.setup(), management } };
    return runSample(ground, nominalSample(this.setup()), { ...LIKELY, outputsPerDay, proof: this.proof });
  }
}

/** Share of the mature biomass from which an inoculum counts as seeding. */
const SEEDED_SHARE = 0.02;

/** Whether the plan has cuts, and after none of them a closed filter starts as it stands. */
const neverRestarted = ({ cuts }: Run): boolean =>
  cuts.length > 0 && cuts.every(({ event }) => event.closedFilter !== "restarted");

/** The range of a cluster in the spread; the first window is the whole run. */
const rangesOf = (spread: Spread | null, cluster: number) => spread?.highest[1 + cluster] ?? null;

/** The functions that produce findings, in the order of their sentences. */
export const finders: readonly ((a: Answers) => readonly Statement[])[] = [
  (a) => {
    if (a.resolved.fishless) return cycleFindings(a.words, a.run(), a.ready(), a.handling(), a.spread());
    const arrival = a.arrival();
    if (arrival === null) return [];
    const before = a.run().days.findLastIndex((on) => on <= Math.max(0, arrival.day - 1e-6));
    return [stockedFinding(a.run(), arrival, carriesAt(a.run(), Math.max(0, before)))];
  },
  (a) =>
    a.arrival() === null || lossOfAnimals(a.run()) !== null
      ? []
      : [capacityFinding(a.run(), a.capacity().carriesGNPerDay, a.resolved.fishless ? null : a.spread())],
  (a) => peakFindings(a.words, a.run(), a.spread()),
  (a) => a.effects().map(({ n, effect }, e) => effectFinding(effect, rangesOf(a.spread(), n), a.paired()[e])),
  (a) => unfollowedFinding(unfollowed(a.resolved.management)),
  (a) => hydraulicFindings(a.hydraulics(), a.faults().remedies),
  (a) => volumeFindings(a.resolved, a.hydraulics()),
  (a) => calibrationFindings(a.resolved.calibrations),
  (a) => breakHoleFindings(a.hydraulics()),
  (a) => reactorFindings(a.hydraulics()),
  (a) => sequenceFindings(a.hydraulics()),
  (a) => {
    const { neglect, rig } = a.resolved;
    const story = neglect && simulateNeglect(rig, neglect);
    return story ? [neglectFinding(story)] : [];
  },
  (a) => hoseFindings(a.resolved.rig, a.coupled.simulator, a.resolved.hoses),
  (a) => a.faults().findings,
  (a) => plannedCutFindings(a.run()),
  (a) => aftermathFinding(a.resolved.outage, a.fortnight()),
  (a) => closedFilterFindings(a.resolved.rig, a.closedFilters(), a.resolved.outage.hours, neverRestarted(a.run())),
  (a) => drownedFindings(a.setup().rest),
  (a) => outageFindings(a.clocks(), a.cutAsked(), stagnantHeaterWarning(a.setup().rest, a.resolved.outage)),
  (a) => restartFindings(a.resolved.outage, restartTemperature(a.setup().rest, a.resolved.outage, a.coupled.exchange)),
  (a) => waterChangeFindings(a.run()),
  (a) => waterFindings(a.run(), a.spread()),
  (a) => heatFindings(a.setup(), a.run()),
  (a) => airAndPhFindings(a.run()),
  (a) => spreadingFindings(a.run().aquarium),
  (a) => maintenanceFindings(a.run()),
];
