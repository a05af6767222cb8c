// A power cut as all clocks see it: the rig at rest, the actions during the cut, and the time horizon.
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import { type CellPlan, dayVolumes, type Exchange, type WaterCell } from "../coupling/exchange.ts";
import type { Transient } from "../hydraulics/types.ts";
import type { Management } from "../nitrogen/management.ts";
import type { PowerCut } from "../nitrogen/operation/outage-record.ts";
import { wettedShareOf } from "../nitrogen/tank/wetting.ts";
import type { Rig } from "../rig.ts";

/** A power cut without its day. */
export type Cut = Omit<PowerCut, "kind">;

/** The water after the pump has stopped and the levels have settled. */
export interface AtRest {
  readonly rig: Rig;
  readonly management: Management;
  readonly cells: readonly WaterCell[];
  /** Water of each cell at rest [m³], in the order of `cells`. */
  readonly volumesM3: readonly number[];
  /** Water level of each sump chamber at rest, above the sump's inside bottom [m], by chamber id. */
  readonly chamberLevelZ: Readonly<Record<string, number>>;
  /** Share of each tower's media that was wetted while running, 0-1, in the order of the rig's towers. */
  readonly wettedShare: readonly number[];
}

/** Time horizon of the clocks [h]. Anything later counts as "never": an outage of five days needs other help. */
export const HORIZON_H = 120;

/** Earliest and latest time of something [h]; null when even the earliest is beyond the horizon. */
export type RangeH = readonly [number, number] | null;

/** A range from its two ends; a latest time of null counts as the horizon. */
export function rangeH(earliestH: number | null, latestH: number | null): RangeH {
  if (earliestH === null) return null;
  return [earliestH, Math.max(earliestH, latestH ?? HORIZON_H)];
}

/**
 * One clock: earliest and latest time at which it turns amber (check) and red (too late) [h after the start of the
 * outage].
 */
export interface Clock {
  readonly id: string;
  readonly name: string;
  readonly amberH: RangeH;
  readonly redH: RangeH;
  readonly why: Words;
  readonly source: string;
}

/**
 * Words with their quantities apart, so that each reader gets them in their own units: temperatures [°C], masses [g],
 * volumes [m3], hours.
 */
export type Words = readonly (
  | string
  | { readonly is: "temperature" | "mass" | "volume" | "hours"; readonly value: number }
  | { readonly is: "hour span"; readonly value: number; readonly to: number | null }
)[];

/** Room air during the outage: as given for the outage, otherwise as usual. */
export function roomDuring(rig: Rig, cut: Cut): { readonly temperatureC: number; readonly relativeHumidity: number } {
  return cut.room ?? rig.room;
}

/**
 * The state of rest in which a hydraulic outage transient ends. Volumes are at least 10 mL, so that no cell disappears.
 * @throws Error when the transient was run without its trace
 */
export function restOf(
  rig: Rig,
  management: Management,
  plan: CellPlan,
  running: Exchange,
  cut: Pick<Transient, "vessels" | "endVolumesM3" | "trace">,
): AtRest {
  const chamberLevelZ: Record<string, number> = {};
  for (const vessel of cut.vessels) {
    if (vessel.kind !== "chamber") continue;
    const levelZ = cut.trace.levelsZ[vessel.id]?.at(-1);
    if (levelZ === undefined) throw new Error("this transient was run without its trace");
    chamberLevelZ[vessel.partOf] = levelZ;
  }
  const volumesM3 = dayVolumes(plan, cut.endVolumesM3);
  return {
    rig,
    management,
    cells: plan.cells,
    volumesM3,
    chamberLevelZ,
    wettedShare: wettedShares(rig, management, plan.cells, running),
  };
}

/** Wetted share of each tower's media at the running flows, 0-1, in the order of the rig's towers. */
export function wettedShares(rig: Rig, management: Management, cells: readonly WaterCell[], running: Exchange): number[] {
  return rig.towers.map((tower) => {
    const cell = cells.findIndex((c) => c.kind === "tower" && c.partOf === tower.id);
    const perDay = running.flows.reduce((sum, flow) => sum + (flow.to === cell ? flow.m3PerDay : 0), 0);
    return wettedShareOf(tower, rig, management, Math.max(perDay / SECONDS_PER_DAY, 1e-7), null);
  });
}

/** Index of the water cell of a part. @throws Error when the part has none */
export function cellOf(rest: AtRest, kind: WaterCell["kind"], id: string): number {
  const index = rest.cells.findIndex((cell) => cell.kind === kind && cell.partOf === id);
  if (index < 0) throw new Error(`no water cell for the ${kind} ${id}`);
  return index;
}

/**
 * First time at which a sampled curve falls (sign -1) or rises (sign 1) to a level [h], linear between samples; null
 * when it never does.
 */
export function firstCrossingH(stepH: number, values: ArrayLike<number>, level: number, sign: -1 | 1): number | null {
  for (let i = 0; i < values.length; i++) {
    if (sign * (values[i] - level) < 0) continue;
    if (i === 0) return 0;
    return stepH * (i - 1 + (level - values[i - 1]) / (values[i] - values[i - 1]));
  }
  return null;
}
