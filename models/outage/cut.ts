// A power cut as every clock sees it: the rig at rest, what is done during the cut, and how far ahead the clocks look.
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import { type CellPlan, dayVolumes, type Exchange, type WaterCell } from "../coupling/exchange.ts";
import type { Transient } from "../hydraulics/types.ts";
import type { Management } from "../nitrogen/management.ts";
import type { PowerCut } from "../nitrogen/operation/outage-record.ts";
import { wettedShareOf } from "../nitrogen/tank/wetting.ts";
import type { Rig } from "../rig.ts";

/** A power cut as the clocks need it: without its day. */
export type Cut = Omit<PowerCut, "kind">;

/** The water after the pump has stopped and the levels have come to rest. */
export interface AtRest {
  readonly rig: Rig;
  readonly management: Management;
  readonly cells: readonly WaterCell[];
  /** Water of each cell at rest [m3], in the order of `cells`. */
  readonly volumesM3: readonly number[];
  /** Water surface of each sump chamber at rest, above the sump's inside bottom [m], by chamber id. */
  readonly chamberLevelZ: Readonly<Record<string, number>>;
  /** Share of each tower's media that was wetted while running, in the order of the rig's towers. */
  readonly wettedShare: readonly number[];
}

/** Clocks look this far ahead [h]; what comes later is "never" in practice: a cut of five days is a disaster with other help. */
export const HORIZON_H = 120;

/** Times between which something happens [h]; null when it does not happen within the horizon even at the earliest. */
export type RangeH = readonly [number, number] | null;

/** A range from its two ends; an end that is never reached counts as the horizon. */
export function rangeH(earliestH: number | null, latestH: number | null): RangeH {
  if (earliestH === null) return null;
  return [earliestH, Math.max(earliestH, latestH ?? HORIZON_H)];
}

/** One clock: when it turns amber (look at it) and red (late) [h after the cut], earliest and latest. */
export interface Clock {
  readonly id: string;
  readonly name: string;
  readonly amberH: RangeH;
  readonly redH: RangeH;
  readonly why: Words;
  readonly source: string;
}

/** Words with their quantities apart, so that each reader gets them in their own units: temperatures [°C], masses [g], volumes [m3]. */
export type Words = readonly (string | { readonly is: "temperature" | "mass" | "volume"; readonly value: number })[];

/** Room air during the cut: as told for the cut, else as usual. */
export function roomDuring(rig: Rig, cut: Cut): { readonly temperatureC: number; readonly relativeHumidity: number } {
  return cut.room ?? rig.room;
}

/**
 * The rest that a hydraulic power-cut transient ends in. Volumes are kept above a drop of 10 mL so that a cell always exists.
 * @throws Error when the transient carries no trace to read the levels from
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

/** Wetted share of each tower's media at the running flows. */
export function wettedShares(rig: Rig, management: Management, cells: readonly WaterCell[], running: Exchange): number[] {
  return rig.towers.map((tower) => {
    const cell = cells.findIndex((c) => c.kind === "tower" && c.partOf === tower.id);
    const perDay = running.flows.reduce((sum, flow) => sum + (flow.to === cell ? flow.m3PerDay : 0), 0);
    return wettedShareOf(tower, rig, management, Math.max(perDay / SECONDS_PER_DAY, 1e-7), null);
  });
}

/** Indices of the cells of a kind. */
export function cellsOf(rest: AtRest, kind: WaterCell["kind"]): number[] {
  return rest.cells.flatMap((cell, c) => (cell.kind === kind ? [c] : []));
}

/** Index of the cell of one part. @throws Error when the part has no water */
export function cellOf(rest: AtRest, kind: WaterCell["kind"], id: string): number {
  const index = rest.cells.findIndex((cell) => cell.kind === kind && cell.partOf === id);
  if (index < 0) throw new Error(`no water cell for the ${kind} ${id}`);
  return index;
}

/** First time at which a sampled curve falls to (sign -1) or rises to (sign 1) a level [h], linear between samples; null when never. */
export function firstCrossingH(stepH: number, values: ArrayLike<number>, level: number, sign: -1 | 1): number | null {
  for (let i = 0; i < values.length; i++) {
    if (sign * (values[i] - level) < 0) continue;
    if (i === 0) return 0;
    return stepH * (i - 1 + (level - values[i - 1]) / (values[i] - values[i - 1]));
  }
  return null;
}
