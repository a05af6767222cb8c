// The uncertain inputs of a run, and one run with a sample of them. Works in the main thread, in worker threads and in the page.

import { parameters } from "../../models/nitrogen/kinetics/parameters.ts";
import { type Run, type RunOptions, runSimulation } from "../../models/nitrogen/simulation/simulation.ts";
import { type BiofilmStock, inoculatedStock, matureStock } from "../../models/nitrogen/tank/biofilm-stock.ts";
import { initialOperatingState, wettedAreas } from "../../models/nitrogen/tank/operating-state.ts";
import { outageLoss } from "../../models/outage/media-clock.ts";
import { outageHeat } from "../../models/outage/temperature.ts";
import { pow } from "../../sim/elementary.ts";
import type { CreateMember } from "../../sim/ensemble/ensemble.ts";
import { latinHypercube } from "../../sim/ensemble/sampling.ts";
import { aquariumOf, type NitrogenSetup } from "./compile.ts";
import { highestIn } from "./incidents.ts";
import { type Ask, carriesAt, readiness } from "./readiness.ts";

/** Output points per day in bands; the likely run has more. */
export const BAND_POINTS_PER_DAY = 2;
const MEMBER_TOLERANCE = 1e-3;
export const memberDetail = { outputsPerDay: BAND_POINTS_PER_DAY, relative: MEMBER_TOLERANCE } as const;

export interface EnsembleSetup {
  /** The interpretations of the scenario, which members use in turn (two where a kit scale is unknown). */
  readonly nitrogen: readonly NitrogenSetup[];
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
  readonly ask: Ask | null;
  /** Day for whose biomass the capacity is evaluated; with `ask`, the day of readiness instead. */
  readonly capacityDay: number;
  /** Periods in which the highest ammonia and nitrite are looked for [d]. */
  readonly windows: readonly (readonly [from: number, until: number])[];
}

/**
 * Number of answers of one member, in this order: day of readiness, ammonia it can process per day [g N], highest
 * ammonia and nitrite of each window.
 */
export const answersPerMember = ({ windows }: MemberQuestions): number => 2 + 2 * windows.length;
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
  ];
}

/** The keeper's challenge test in a run without animals. */
export type MemberChallengeResult = NonNullable<RunOptions["proof"]>;

/** The uncertain inputs, for the page: name, distribution and reason. */
export const uncertainInputs = [
  {
    input: "seed",
    spread: "log-uniform between the scenario's low and high share of a mature colony",
    why: "nobody knows how many nitrifiers came along",
  },
  {
    input: "wetted share",
    spread: "log-uniform within the factor of the wetting law at this load",
    why: "Onda's law is extrapolated at such loads",
  },
  { input: "growth of ammonia oxidisers", spread: "uniform, 0.85 to 1.15 times", why: "published values differ" },
  { input: "growth of nitrite oxidisers", spread: "uniform, 0.85 to 1.15 times", why: "published values differ" },
] as const;

const logBetween = (low: number, high: number, u: number): number => low * pow(high / low, u);
const between = (low: number, high: number, u: number): number => low + (high - low) * u;

export interface Sample {
  readonly inoculumShare: number;
  readonly wettingFactor: number;
  readonly aobFactor: number;
  readonly nobFactor: number;
}

export function sampleOf(setup: NitrogenSetup, point: Float64Array): Sample {
  const { low, high } = setup.management.seed;
  return {
    inoculumShare: logBetween(low, high, point[0]),
    wettingFactor: point[1] * 2 - 1,
    aobFactor: between(0.85, 1.15, point[2]),
    nobFactor: between(0.85, 1.15, point[3]),
  };
}

/** The likely case: median inoculum, correlations without correction. */
export const nominalSample = (setup: NitrogenSetup): Sample => ({
  inoculumShare: setup.management.seed.likely,
  wettingFactor: 0,
  aobFactor: 1,
  nobFactor: 1,
});

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
  const aquarium = aquariumOf(setup);
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
  { setup, mature, wettedShare, wettingUncertainty }: BaseCase,
  sample: Sample,
  detail: RunDetail,
  hooks: Partial<RunOptions> = {},
): Run {
  const towers =
    sample.wettingFactor === 0
      ? setup.rig.towers
      : setup.rig.towers.map((tower, t) => ({
          ...tower,
          wettedShare: Math.min(1, wettedShare[t] * pow(wettingUncertainty[t], sample.wettingFactor)),
        }));
  const { aobGrowth, nobGrowth } = parameters;
  const aquarium = aquariumOf(
    { ...setup, rig: { ...setup.rig, towers } },
    { aobGrowth: aobGrowth.value * sample.aobFactor, nobGrowth: nobGrowth.value * sample.nobFactor },
  );
  const biofilm = inoculatedStock(aquarium, mature, sample.inoculumShare, setup.management.seed.where);
  const outage = { outageHeat: outageHeat(setup.rest, setup.exchange), outageLoss: outageLoss(setup.rest, aquarium) };
  return runSimulation(aquarium, { ...detail, ...outage, begin: biofilm, stop: setup.stop, ...hooks });
}

/** Output times of a band [d]. */
export const bandDays = (days: number): number[] =>
  Array.from({ length: Math.floor(days * BAND_POINTS_PER_DAY) + 1 }, (_, i) => i / BAND_POINTS_PER_DAY);

/**
 * Creates the member function. Its result holds TAN, nitrite and nitrate of the first display at the band's times [g
 * N/m³], one after the other, and then the answers.
 */
export const createMember: CreateMember<EnsembleSetup> = ({ nitrogen, seed, members, days, proof, questions, twins }) => {
  const place = latinHypercube(seed, members, 4);
  const times = bandDays(days);
  const grounds = nitrogen.map((setup) => prepareBaseCase(setup));
  return (index, random) => {
    const detail = { ...memberDetail, proof };
    const ground = grounds[index % grounds.length];
    const sample = sampleOf(ground.setup, place(index, random));
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
