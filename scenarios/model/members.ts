// One run with a sample of the uncertain inputs, and the members of a band. Works in the main thread, in worker threads and in the page.

import { type Run, type RunOptions, runSimulation } from "../../models/nitrogen/simulation/simulation.ts";
import { type BiofilmStock, inoculatedStock, matureStock } from "../../models/nitrogen/tank/biofilm-stock.ts";
import { initialOperatingState, wettedAreas } from "../../models/nitrogen/tank/operating-state.ts";
import { outageLoss } from "../../models/outage/media-clock.ts";
import { runningHeat } from "../../models/outage/running-heat.ts";
import { outageHeat } from "../../models/outage/temperature.ts";
import { normalQuantile } from "../../sim/design/distributions.ts";
import { pow } from "../../sim/elementary.ts";
import type { CreateMember, Random } from "../../sim/ensemble/ensemble.ts";
import { latinHypercube } from "../../sim/ensemble/sampling.ts";
import { type NitrogenSetup, nitrogenModelOf } from "./compile.ts";
import { highestIn, lowestAlkalinity } from "./incidents.ts";
import { type ChallengeQuestion, carriesAt, readiness } from "./readiness.ts";
import { kineticsOf, type Sample, sampleAt, setupWith, tiedTogether, uncertainInputs } from "./uncertain.ts";

export { nominalSample, type Sample } from "./uncertain.ts";

/** Output points per day in bands; the likely run has more. */
export const BAND_POINTS_PER_DAY = 2;
const MEMBER_TOLERANCE = 1e-3;
export const memberDetail = { outputsPerDay: BAND_POINTS_PER_DAY, relative: MEMBER_TOLERANCE } as const;

export interface EnsembleSetup {
  /** The interpretations of the scenario, which members use in turn (two where a kit scale is unknown). */
  readonly nitrogen: readonly NitrogenSetup[];
  /** The settled stock of each reading, where it was computed before; else every worker computes its own. */
  readonly mature?: readonly BiofilmStock[];
  readonly seed: string;
  readonly members: number;
  readonly days: number;
  readonly proof: MemberChallengeResult;
  readonly questions: MemberQuestions;
  readonly twins: Twins;
}

/** Members that are run again without the incidents of each cluster: pairs with the same inputs, so that their difference is the incidents'. */
export interface Twins {
  /** Every so many members one has twins; 0 when none has. */
  readonly every: number;
  /** For each reading of the scenario, the plans without each cluster's incidents, up to the end of the cluster. */
  readonly plans: readonly (readonly NitrogenSetup["management"][])[];
}

export const NO_TWINS: Twins = { every: 0, plans: [] };

/** Pairs that are enough for a range, and the fewest that make one. */
const MOST_PAIRS = 10;
const FEWEST_PAIRS = 5;
/** Twins take no more than this share of the days that the members take, unless that leaves too few. */
const TWIN_SHARE = 0.25;

/** Which members have twins, at a bounded cost. */
export function twinsOf(members: number, days: number, plans: Twins["plans"]): Twins {
  const each = (plans[0] ?? []).reduce((sum, plan) => sum + plan.days, 0);
  if (each === 0 || members < FEWEST_PAIRS) return NO_TWINS;
  const affordable = Math.floor((TWIN_SHARE * members * days) / each);
  const pairs = Math.min(members, Math.max(FEWEST_PAIRS, Math.min(MOST_PAIRS, affordable)));
  return { every: Math.floor(members / pairs), plans };
}

/** What a twin could not be run to: not a reading. */
export const NO_READING = -1;

/** Questions that every member answers besides its curves. */
export interface MemberQuestions {
  /** The keeper's challenge test, if readiness is asked for. */
  readonly ask: ChallengeQuestion | null;
  /** Day for whose biomass the capacity is evaluated; with `ask`, the day of readiness instead. */
  readonly capacityDay: number;
  /** Periods in which the highest ammonia and nitrite are looked for [d]. */
  readonly windows: readonly (readonly [from: number, until: number])[];
}

/**
 * Number of answers of one member, in this order: day of readiness, ammonia it can process per day [g N], highest
 * ammonia and nitrite of each window, lowest alkalinity [eq/m³].
 */
export const answersPerMember = ({ windows }: MemberQuestions): number => 3 + 2 * windows.length;
/** Represents "not within the run" among the days. */
export const NEVER_DAY = 1e6;

function answersOf(run: Run, { ask, capacityDay, windows }: MemberQuestions): number[] {
  const ready = ask === null ? null : readiness(run, ask, true);
  const index =
    ready !== null
      ? ready.index
      : Math.max(
          0,
          run.days.findLastIndex((day) => day <= capacityDay),
        );
  return [
    ready === null ? 0 : (ready.day ?? NEVER_DAY),
    carriesAt(run, index),
    ...windows.flatMap(([from, until]) =>
      (["tan", "no2"] as const).map((substance) => highestIn(run, substance, from, until).value),
    ),
    lowestAlkalinity(run),
  ];
}

/** The keeper's challenge test in a run without animals. */
export type MemberChallengeResult = NonNullable<RunOptions["proof"]>;

export interface RunDetail {
  readonly outputsPerDay: number;
  readonly relative: number;
  readonly proof: MemberChallengeResult;
}

/** What all runs of one set-up share: the mature biofilm, and the wetted shares that the correlations give. */
export interface BaseCase {
  readonly setup: NitrogenSetup;
  readonly mature: BiofilmStock;
  readonly wettedShare: readonly number[];
  readonly wettingUncertainty: readonly number[];
}

/** @param mature returns a cached mature biofilm, or calls the function that computes it */
export function prepareBaseCase(
  setup: NitrogenSetup,
  mature: (compute: () => BiofilmStock) => BiofilmStock = (compute) => compute(),
): BaseCase {
  const aquarium = nitrogenModelOf(setup);
  const areas = wettedAreas(aquarium, initialOperatingState(aquarium));
  return {
    setup,
    mature: mature(() => matureStock(aquarium)),
    wettedShare: aquarium.filmOf.towers.map((film) => areas[film] / aquarium.surfaceM2[film]),
    wettingUncertainty: aquarium.wettingUncertainty,
  };
}

/** One run with a sample of the uncertain inputs. The inoculum is a fraction of the mature biomass of the likely case. */
export function runSample(
  { setup: written, mature, wettedShare, wettingUncertainty }: BaseCase,
  sample: Sample,
  detail: RunDetail,
  hooks: Partial<RunOptions> = {},
): Run {
  const setup = setupWith(written, sample);
  const wetting = sample.factors["wetted share"] ?? 1;
  const towers =
    sample.wettingFactor === 0 && wetting === 1
      ? setup.rig.towers
      : setup.rig.towers.map((tower, t) => ({
          ...tower,
          wettedShare: Math.min(1, wettedShare[t] * wetting * pow(wettingUncertainty[t], sample.wettingFactor)),
        }));
  const aquarium = nitrogenModelOf({ ...setup, rig: { ...setup.rig, towers } }, kineticsOf(sample));
  const biofilm = inoculatedStock(aquarium, mature, sample.inoculumShare, setup.management.seed.where);
  const outage = {
    outageHeat: outageHeat(setup.rest, setup.exchange),
    runningHeat: runningHeat(setup.rest, setup.exchange),
    outageLoss: outageLoss(setup.rest, aquarium),
  };
  return runSimulation(aquarium, { ...detail, ...outage, begin: biofilm, stop: setup.stop, ...hooks });
}

/** Output times of a band [d]. */
export const bandDays = (days: number): number[] =>
  Array.from({ length: Math.floor(days * BAND_POINTS_PER_DAY) + 1 }, (_, i) => i / BAND_POINTS_PER_DAY);

/** The uncertain inputs of each member: a Latin hypercube over the ensemble, its numbers standard normal. Readings take turns. */
export function memberSamples(nitrogen: readonly NitrogenSetup[], seed: string, members: number) {
  const inputs = nitrogen.map(uncertainInputs);
  const tied = nitrogen.map((setup, n) => tiedTogether(setup, inputs[n]));
  const place = latinHypercube(seed, members, inputs[0].length);
  return (index: number, random: Random): Sample => {
    const which = index % nitrogen.length;
    return sampleAt(nitrogen[which], inputs[which], tied[which](place(index, random).map(normalQuantile)));
  };
}

/**
 * Creates the member function. Its result holds TAN, nitrite and nitrate of the first display at the band's times [g
 * N/m³], one after the other, and then the answers.
 */
export const createMember: CreateMember<EnsembleSetup> = ({ nitrogen, mature, seed, members, days, proof, questions, twins }) => {
  const grounds = nitrogen.map((setup, n) => prepareBaseCase(setup, (compute) => mature?.[n] ?? compute()));
  const sampleOf = memberSamples(nitrogen, seed, members);
  const times = bandDays(days);
  return (index, random) => {
    const detail = { ...memberDetail, proof };
    const ground = grounds[index % grounds.length];
    const sample = sampleOf(index, random);
    const run = runSample(ground, sample, detail, { evenFeeding: true });
    if (run.outcome.status !== "finished")
      return { failure: run.outcome.status === "failed" ? run.outcome.message : run.outcome.status };
    const { layout, displayCells } = run.aquarium;
    const plans = twins.every > 0 && index % twins.every === 0 ? twins.plans[index % grounds.length] : [];
    const points = 3 * times.length + answersPerMember(questions);
    const out = new Float64Array(points + 2 * plans.length);
    plans.forEach((management, c) => {
      const twin = runSample({ ...ground, setup: { ...ground.setup, management } }, sample, detail, { evenFeeding: true });
      const [from, until] = questions.windows[1 + c];
      (["tan", "no2"] as const).forEach((substance, s) => {
        out[points + 2 * c + s] = twin.outcome.status === "finished" ? highestIn(twin, substance, from, until).value : NO_READING;
      });
    });
    out.set(answersOf(run, questions), 3 * times.length);
    (["tan", "no2", "no3"] as const).forEach((substance, s) => {
      const i = layout.cellIndex(displayCells[0], substance);
      times.forEach((_, n) => {
        out[s * times.length + n] = Math.max(0, run.states[Math.min(n, run.states.length - 1)][i]);
      });
    });
    return out;
  };
};
