// The power cut with uncertain hydraulics: early, likely and late of the margin and of the rise in the sump, and how often it floods.

import { atSpeed } from "../../models/hydraulics/laws/pump.ts";
import { OutageSimulator } from "../../models/hydraulics/outage/outage-simulation.ts";
import type { VerdictWord } from "../../models/hydraulics/types.ts";
import type { ReturnLine, Rig } from "../../models/rig.ts";
import { betweenPercentiles, EIGHT_OF_TEN, normalQuantile, normalShare } from "../../sim/design/distributions.ts";
import { memberStream } from "../../sim/ensemble/ensemble.ts";
import { latinHypercube } from "../../sim/ensemble/sampling.ts";
import { yieldToEventLoop } from "../../sim/ensemble/scope.ts";
import { varianceShares } from "../../sim/inference/variance-shares.ts";
import { weightedQuantiles } from "../../sim/inference/weights.ts";
import type { ResolvedScenario } from "../build/build.ts";
import type { HydraulicInputId } from "../schema/uncertain.ts";
import type { EarlyLikelyLate } from "./summary.ts";

interface HydraulicInput {
  readonly id: HydraulicInputId;
  /** A factor, or a length that is added [m]. */
  readonly value: (z: number) => number;
  readonly apply: (rig: Rig, value: number) => Rig;
  readonly why: string;
}

const lines = (rig: Rig, change: (line: ReturnLine) => ReturnLine): Rig => ({
  ...rig,
  return: change(rig.return),
  moreReturns: rig.moreReturns.map(change),
});

const withPumpSpeed = (rig: Rig, speed: number): Rig =>
  lines(rig, (line) => ({ ...line, pump: { ...line.pump, curve: atSpeed(line.pump.curve, speed) } }));

/** The flow over an edge is in proportion to its open length. */
const withEdges = (rig: Rig, factor: number): Rig => ({
  ...rig,
  displays: rig.displays.map((display) => ({
    ...display,
    overflows: display.overflows.map((overflow) => ({ ...overflow, weirLengthM: overflow.weirLengthM * factor })),
  })),
});

const withBores = (rig: Rig, factor: number): Rig => {
  const wider = <P extends { readonly boreM: number }>(pipe: P): P => ({ ...pipe, boreM: pipe.boreM * factor });
  const returns = lines(rig, (line) => ({
    ...line,
    riser: wider(line.riser),
    nozzles: line.nozzles.map((nozzle) => ({ ...wider(nozzle), branch: nozzle.branch && wider(nozzle.branch) })),
  }));
  return {
    ...returns,
    displays: rig.displays.map((display) => ({
      ...display,
      overflows: display.overflows.map((overflow) => ({
        ...overflow,
        siphon: overflow.siphon && wider(overflow.siphon),
        drains: overflow.drains.map(wider),
      })),
    })),
  };
};

const withFill = (rig: Rig, byM: number): Rig => ({
  ...rig,
  sump: { ...rig.sump, runningLevelM: Math.max(0.001, Math.min(rig.sump.heightM - 0.001, rig.sump.runningLevelM + byM)) },
});

/** Outlets and their break holes, which hang on the same pipe. */
const withOutlets = (rig: Rig, byM: number): Rig =>
  lines(rig, (line) => ({
    ...line,
    nozzles: line.nozzles.map((nozzle) => ({
      ...nozzle,
      tipZ: nozzle.tipZ + byM,
      breakHole: nozzle.breakHole && { ...nozzle.breakHole, z: nozzle.breakHole.z + byM },
    })),
  }));

interface Usual {
  readonly id: HydraulicInputId;
  readonly low: number;
  readonly high: number;
  readonly apply: HydraulicInput["apply"];
  readonly why: string;
}

const ASSUMED = "modelling assumption";
const FACTORS: readonly Usual[] = [
  {
    id: "pump speed",
    low: 0.85,
    high: 1.03,
    apply: withPumpSpeed,
    why: `${ASSUMED}: labels are those of a clean pump at its best; a worn or fouled one gives less`,
  },
  {
    id: "overflow edge",
    low: 0.85,
    high: 1.1,
    apply: withEdges,
    why: `${ASSUMED}: formulas differ by a tenth at such heads, and teeth grow over`,
  },
  { id: "pipe bore", low: 0.95, high: 1.02, apply: withBores, why: `${ASSUMED}: nominal sizes, and slime on the wall` },
];
const OFFSETS: readonly Usual[] = [
  {
    id: "fill level",
    low: -0.005,
    high: 0.005,
    apply: withFill,
    why: `${ASSUMED}: read by ruler on moving water, and topped up by hand`,
  },
  { id: "outlet height", low: -0.005, high: 0.005, apply: withOutlets, why: `${ASSUMED}: an outlet is pushed by hand` },
];

/** The uncertain inputs of the hydraulics; what the scenario says stands in place of the usual ranges. */
export function hydraulicInputs(uncertain: ResolvedScenario["uncertain"]): readonly HydraulicInput[] {
  const written = (id: HydraulicInputId) => uncertain[id];
  const says = "as the scenario says";
  return [
    ...FACTORS.map(({ id, low, high, apply, why }): HydraulicInput => {
      const own = written(id);
      const spread = own
        ? betweenPercentiles(own.low, ("likely" in own ? own.likely : undefined) ?? 1, own.high)
        : betweenPercentiles(low, 1, high);
      return { id, apply, value: (z) => spread(normalShare(z)), why: own ? says : why };
    }),
    ...OFFSETS.map(({ id, low, high, apply, why }): HydraulicInput => {
      const own = written(id) ?? { low, high };
      const [middle, half] = [(own.low + own.high) / 2, (own.high - own.low) / 2];
      return { id, apply, value: (z) => middle + (half * z) / EIGHT_OF_TEN, why: written(id) ? says : why };
    }),
  ];
}

export interface HydraulicRange {
  readonly members: number;
  /** Smallest distance of any level to its rim [m]; a spill is 0. */
  readonly marginM: EarlyLikelyLate;
  /** Rise of the return chamber [m], and water on the floor [m3]. */
  readonly riseM: EarlyLikelyLate;
  readonly floorM3: EarlyLikelyLate;
  /** Share of the members with each verdict. */
  readonly verdicts: Readonly<Record<VerdictWord, number>>;
  /** Share of the variance of the margin that goes with each input, largest first; small ones are left out. */
  readonly why: readonly { readonly input: HydraulicInputId; readonly share: number }[];
  readonly inputs: readonly { readonly id: HydraulicInputId; readonly range: EarlyLikelyLate; readonly why: string }[];
}

const LEAST_SHARE = 0.05;

const three = (values: readonly number[]): EarlyLikelyLate => {
  const even = new Float64Array(values.length).fill(1 / values.length);
  const [early, likely, late] = weightedQuantiles(values, even, [0.1, 0.5, 0.9]);
  return { early, likely, late };
};

/**
 * Simulates the power cut and the restart with every member of the inputs.
 * @throws the reason of the signal
 */
export async function hydraulicRange(
  { rig, uncertain }: Pick<ResolvedScenario, "rig" | "uncertain">,
  members: number,
  seed: string,
  signal: AbortSignal,
): Promise<HydraulicRange> {
  const inputs = hydraulicInputs(uncertain);
  const place = latinHypercube(`${seed}/hydraulics`, members, inputs.length);
  const last = rig.sump.chambers[rig.sump.chambers.length - 1].id;
  const points: Float64Array[] = [];
  const [margin, rise, floor]: [number[], number[], number[]] = [[], [], []];
  const verdicts = { HOLDS: 0, TIGHT: 0, FLOODS: 0 };
  for (let n = 0; n < members; n++) {
    await yieldToEventLoop(signal);
    const z = Float64Array.from(place(n, memberStream(`${seed}/hydraulics`, n)), normalQuantile);
    const member = inputs.reduce((changed, { apply, value }, i) => apply(changed, value(z[i])), rig);
    const { verdict, running, cut } = new OutageSimulator(member).simulate({ keepTrace: false, follow: false });
    points.push(z);
    margin.push(verdict.marginM);
    rise.push(cut.highestZ[last].z - running.levelsZ[last]);
    floor.push(verdict.floorM3);
    verdicts[verdict.word] += 1 / members;
  }
  const { shares } = varianceShares(points, margin);
  return {
    members,
    marginM: three(margin),
    riseM: three(rise),
    floorM3: three(floor),
    verdicts,
    why: shares
      .map((share, i) => ({ input: inputs[i].id, share }))
      .filter(({ share }) => share >= LEAST_SHARE)
      .sort((a, b) => b.share - a.share),
    inputs: inputs.map(({ id, value, why }) => ({
      id,
      range: { early: value(-EIGHT_OF_TEN), likely: value(0), late: value(EIGHT_OF_TEN) },
      why,
    })),
  };
}
