// Pipe sizes and pump data where the scenario gives only the label flow.
import { pow } from "../../sim/elementary.ts";
import { unitNamed } from "../text/unit-table.ts";

/** Bores of commercial plastic pipe, rounded [m] (common practice, no published source). */
const BORES_M = [0.012, 0.016, 0.02, 0.025, 0.032, 0.04, 0.05, 0.063, 0.075, 0.1, 0.125, 0.15, 0.2] as const;

const firstAtLeast = (m: number): number => BORES_M.find((bore) => bore >= m * 0.98) ?? BORES_M[BORES_M.length - 1];

/**
 * Capacity of an open drain, in which air flows down beside the water [m³/s]: 600 US gallons per hour for one inch, in
 * proportion to the power 5/2 of the bore (common practice, no published source; uncertain by a third either way).
 */
export const openDrainCapacityM3PerS = (boreM: number): number => 600 * unitNamed("us gph")!.factor * pow(boreM / 0.0254, 2.5);

/**
 * Number and bore of open drains for a flow: one pipe of a usual size (to 50 mm) if that is enough, otherwise several
 * of 50 mm.
 */
export function drainsFor(flowM3PerS: number): { readonly count: number; readonly boreM: number } {
  const one = BORES_M.find((bore) => bore <= 0.05 && bore >= 0.02 && openDrainCapacityM3PerS(bore) >= flowM3PerS);
  return one
    ? { count: 1, boreM: one }
    : { count: Math.min(6, Math.ceil(flowM3PerS / openDrainCapacityM3PerS(0.05))), boreM: 0.05 };
}

/** Riser bore for a velocity of about 1.2 m/s at two thirds of the label flow (common practice, no published source). */
export const riserBoreM = (labelFlowM3PerS: number): number =>
  firstAtLeast(Math.sqrt((4 * labelFlowM3PerS * (2 / 3)) / (Math.PI * 1.2)));

/** Head that tubes over the glass may cost [m], and their losses: entrance, exit and friction along some twenty bores (modelling assumption). */
const TUBE_HEAD_M = 0.025;
const TUBE_K = 0.78 + 1 + 0.5;
const TUBE_SPARE = 1.25;

/** Bore of each of so many siphon tubes that carry a flow, a quarter to spare [m]. */
export const tubeBoreM = (flowM3PerS: number, tubes: number): number =>
  firstAtLeast(Math.sqrt((4 * TUBE_SPARE * flowM3PerS) / tubes / (Math.PI * Math.sqrt((2 * 9.80665 * TUBE_HEAD_M) / TUBE_K))));

/** Share of the label flow that remains after lift and fittings (common practice: 50 to 70 %). */
export const REAL_FLOW_SHARE = 0.6;

/**
 * Shut-off head estimated from the label flow [m]: 1.6 m at 1000 L/h, in proportion to the square root of the flow (modelling
 * assumption), and at least so high that the lift is 60 % of it, because a pump bought for the job reaches the tank.
 */
export const guessedHeadM = (labelFlowM3PerS: number, liftM: number): number =>
  Math.max(1.6 * Math.sqrt((labelFlowM3PerS * 3.6e6) / 1000), liftM / 0.6);

/** Electric power estimated from the label flow [W]: 10 W per 1000 L/h (common practice, no published source). */
export const guessedPowerW = (labelFlowM3PerS: number): number => (labelFlowM3PerS * 3.6e6) / 100;
