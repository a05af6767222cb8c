// The uncertain inputs of a run: their distributions with reasons, and the set-up of a run for a sample of them.

import type { Plan } from "../../models/nitrogen/events/all.ts";
import { type ParameterId, parameters } from "../../models/nitrogen/kinetics/parameters.ts";
import { displayPlanM2 } from "../../models/rig.ts";
import { type Correlation, correlated, correlationRoot } from "../../sim/design/correlation.ts";
import { betweenPercentiles, EIGHT_OF_TEN, logEvenAround, normalShare, type Quantile } from "../../sim/design/distributions.ts";
import { pow } from "../../sim/elementary.ts";
import type { UncertainId } from "../schema/uncertain.ts";
import type { NitrogenSetup } from "./compile.ts";

/** Seed and wetted share have their own units; all other inputs are factors on the usual value. */
export type InputId = "seed" | UncertainId;

/** Inputs of one run. An input without a factor keeps its value from the scenario. */
export interface Sample {
  /** Fraction of the mature biomass at the start. */
  readonly inoculumShare: number;
  /** Power of the wetting law's uncertainty factor, -1 to 1. */
  readonly wettingFactor: number;
  /** Factor of each input on its value in the scenario, or on its usual value. */
  readonly factors: Readonly<Partial<Record<UncertainId, number>>>;
}

/** The likely case: median seed, no change of the correlations. */
export const nominalSample = (setup: NitrogenSetup): Sample => ({
  inoculumShare: setup.management.seed.likely,
  wettingFactor: 0,
  factors: {},
});

/** An input that is uncertain in a scenario. */
export interface UncertainInput {
  readonly id: InputId;
  /**
   * Quantile function from [0, 1) to the value: a fraction for the seed, an exponent for the wetted share, otherwise a
   * factor.
   */
  readonly spread: Quantile;
  /** 10th, 50th and 90th percentile in words, with the reason. */
  readonly words: string;
  readonly why: string;
}

/**
 * Factor from a published range to the central 80 %. A published range covers nearly all values found in all kinds of systems;
 * it is assumed to cover 99 % (modelling assumption).
 */
const OF_PUBLISHED_RANGE = EIGHT_OF_TEN / 2.5758293035489004;

/** Uncertain kinetic parameters, with an upper limit where values of sludge do not apply to aquaria. */
const KINETICS: Readonly<
  Partial<Record<UncertainId, { readonly parameter: ParameterId; readonly max?: number; readonly why?: string }>>
> = {
  "growth of ammonia oxidisers": { parameter: "aobGrowth" },
  "growth of slow ammonia oxidisers": { parameter: "saoGrowth" },
  "growth of nitrite oxidisers": { parameter: "nobGrowth" },
  "growth of slow nitrite oxidisers": { parameter: "snoGrowth" },
  "half-saturation of ammonia": { parameter: "aobHalfTan" },
  "half-saturation of nitrite": {
    parameter: "nobHalfNo2",
    max: 0.81,
    why: "up to that of Nitrotoga (Nowka et al. 2015, from memory); sludge has higher ones, with which no aquarium would read nothing",
  },
  "half-saturation of slow nitrite oxidisers": { parameter: "snoHalfNo2" },
  "inhibition by ammonia": { parameter: "faInhibitsNob" },
};

const ASSUMED = "modelling assumption";
/** 10th and 90th percentile of the other inputs, as factors on their values in the scenario. */
const OTHERS: Readonly<Partial<Record<UncertainId, { readonly low: number; readonly high: number; readonly why: string }>>> = {
  "water volume": { low: 0.9, high: 1.05, why: `${ASSUMED}: gravel, rock and the true water line take more than they give` },
  food: { low: 0.75, high: 1.35, why: `${ASSUMED}: food is given by the pinch, some is never eaten, and the dead are not seen` },
  dose: { low: 0.85, high: 1.15, why: `${ASSUMED}: strength of the bottle, and measuring` },
  "plants and algae": { low: 0.4, high: 2.5, why: `${ASSUMED}: nobody weighs what grows on glass and leaves` },
  alkalinity: { low: 0.9, high: 1.1, why: "common practice, no published source: a drop test is good to half a drop or so" },
  "room for bacteria": { low: 0.7, high: 1.35, why: `${ASSUMED}: full films on published carriers differ by this much` },
};

/**
 * Uptake by algae on glass and stones without plants in the scenario, per plan area of the tank [g N/m²/d] (modelling
 * assumption).
 */
const ALGAE_GN_PER_M2_DAY = 0.005;

const percentText = (factor: number): string => `${Number((100 * factor).toPrecision(2))} %`;
const rangeText = (low: number, likely: number, high: number): string =>
  `${percentText(low)} to ${percentText(high)} of the usual, likely ${percentText(likely)}`;

function factorInput(id: UncertainId, setup: NitrogenSetup): UncertainInput | null {
  const written = setup.uncertain[id];
  if (written) {
    const { low, likely = 1, high } = written;
    return {
      id,
      spread: betweenPercentiles(low, likely, high),
      words: rangeText(low, likely, high),
      why: "as the scenario says",
    };
  }
  const kinetic = KINETICS[id];
  if (kinetic) {
    const { value, min, max: published, source } = parameters[kinetic.parameter];
    const [low, high] = [min, kinetic.max ?? published].map((end) => pow(end / value, OF_PUBLISHED_RANGE));
    return { id, spread: betweenPercentiles(low, 1, high), words: rangeText(low, 1, high), why: kinetic.why ?? source };
  }
  const other = OTHERS[id];
  if (!other) return null;
  const { low, high, why } = other;
  return { id, spread: betweenPercentiles(low, 1, high), words: rangeText(low, 1, high), why };
}

function seedInput({ management: { seed } }: NitrogenSetup): UncertainInput {
  const { low, likely, high } = seed;
  const text = (share: number): string => `${Number((100 * share).toPrecision(2))} %`;
  return {
    id: "seed",
    spread: logEvenAround(low, likely, high),
    words: `${text(low)} to ${text(high)} of a mature colony, likely ${text(likely)}`,
    why: "nobody knows how many bacteria came along",
  };
}

function wettingInput({ uncertain }: NitrogenSetup): UncertainInput {
  const written = uncertain["wetted share"];
  if (written) return { ...factorInput("wetted share", { uncertain } as NitrogenSetup)!, id: "wetted share" };
  return {
    id: "wetted share",
    spread: (u) => 2 * u - 1,
    words: "within the factor of the wetting law at this load, even in its logarithm",
    why: "Onda's law is extrapolated at such loads",
  };
}

/** The uncertain inputs of a set-up, in the order of the numbers of a point. */
export function uncertainInputs(setup: NitrogenSetup): readonly UncertainInput[] {
  const { rig, management } = setup;
  const doses = management.events.some(
    (event) => event.kind === "dose" && event.substance !== "bicarbonate" && event.substance !== "chloride",
  );
  const applies: Readonly<Partial<Record<UncertainId, boolean>>> = {
    "wetted share": rig.towers.length > 0,
    food: management.groups.length > 0,
    dose: doses,
  };
  const ids = (["wetted share", ...Object.keys(OTHERS), ...Object.keys(KINETICS)] as UncertainId[]).filter(
    (id) => applies[id] ?? true,
  );
  return [seedInput(setup), ...ids.map((id) => (id === "wetted share" ? wettingInput(setup) : factorInput(id, setup)!))];
}

/**
 * From independent standard normal numbers to those of the uncertain inputs, which go together as the scenario says.
 * @param inputs in the order of the numbers
 */
export function tiedTogether(
  { uncertain: { together = [] } }: Pick<NitrogenSetup, "uncertain">,
  inputs: readonly UncertainInput[],
): (z: ArrayLike<number>) => ArrayLike<number> {
  const place = new Map<string, number>(inputs.map(({ id }, i) => [id, i]));
  const correlations = together.flatMap(({ one, other, correlation }): Correlation[] => {
    const [i, j] = [place.get(one), place.get(other)];
    return i === undefined || j === undefined || i === j ? [] : [{ i, j, value: correlation }];
  });
  if (correlations.length === 0) return (z) => z;
  const root = correlationRoot(inputs.length, correlations);
  return (z) => correlated(z, root);
}

/**
 * A sample from a point.
 * @param z one standard normal number for each of the uncertain inputs, as `tiedTogether` gives them
 */
export function sampleAt(setup: NitrogenSetup, inputs: readonly UncertainInput[], z: ArrayLike<number>): Sample {
  let sample = nominalSample(setup);
  inputs.forEach(({ id, spread }, i) => {
    const value = spread(normalShare(z[i]));
    if (id === "seed") sample = { ...sample, inoculumShare: value };
    else if (id === "wetted share" && !setup.uncertain["wetted share"]) sample = { ...sample, wettingFactor: value };
    else sample = { ...sample, factors: { ...sample.factors, [id]: value } };
  });
  return sample;
}

/** Parameters of the kinetics in a sample. */
export function kineticsOf({ factors }: Sample): Partial<Record<ParameterId, number>> {
  const changes: Partial<Record<ParameterId, number>> = {};
  for (const [id, { parameter }] of Object.entries(KINETICS)) {
    const factor = factors[id as UncertainId];
    if (factor !== undefined) changes[parameter] = parameters[parameter].value * factor;
  }
  const room = factors["room for bacteria"];
  if (room !== undefined) for (const id of ["fullAob", "fullNob"] as const) changes[id] = parameters[id].value * room;
  return changes;
}

/** A set-up with the volume, food, doses, plants and alkalinity of a sample; the same set-up if the sample changes none. */
export function setupWith(setup: NitrogenSetup, { factors }: Sample): NitrogenSetup {
  const { "water volume": volume = 1, food = 1, dose = 1, "plants and algae": uptake, alkalinity = 1 } = factors;
  if (volume === 1 && food === 1 && dose === 1 && uptake === undefined && alkalinity === 1) return setup;
  const { exchange, management, stop, rig } = setup;
  const scaled = (volumes: readonly number[]): number[] => volumes.map((m3) => m3 * volume);
  const planM2 = rig.displays.reduce((sum, display) => sum + displayPlanM2(display), 0);
  const growing = management.plants?.uptakeGNPerDay ?? 0;
  const events = management.events.map((event): Plan["events"][number] => {
    switch (event.kind) {
      case "dose":
        if (event.substance === "bicarbonate" || event.substance === "chloride") return event;
        // A keeper doses for the assumed volume, so the concentration depends on the real one.
        return {
          ...event,
          amount: event.amount && event.amount * dose,
          toLevel: event.toLevel && (event.toLevel * dose) / volume,
        };
      case "feed":
        return { ...event, extraGPerDay: event.extraGPerDay * food };
      case "water change":
        return { ...event, tap: { ...event.tap, alkalinityEqPerM3: event.tap.alkalinityEqPerM3 * alkalinity } };
      default:
        return event;
    }
  });
  return {
    ...setup,
    exchange: { ...exchange, volumesM3: scaled(exchange.volumesM3) },
    stop: stop && { ...stop, restVolumesM3: scaled(stop.restVolumesM3), runningVolumesM3: scaled(stop.runningVolumesM3) },
    management: {
      ...management,
      start: { ...management.start, alkalinityEqPerM3: management.start.alkalinityEqPerM3 * alkalinity },
      tap: { ...management.tap, alkalinityEqPerM3: management.tap.alkalinityEqPerM3 * alkalinity },
      groups: management.groups.map((group) => ({ ...group, foodGPerDay: group.foodGPerDay * food })),
      plants: uptake === undefined ? management.plants : { uptakeGNPerDay: uptake * (growing + ALGAE_GN_PER_M2_DAY * planM2) },
      events,
    },
  };
}
