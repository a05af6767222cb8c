// The hoses of a water change, from the file to elevations.
import type { HosePlan } from "../../models/hydraulics/outage/water-change.ts";
import type { Rig } from "../../models/rig.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import type { Notes } from "../text/notes.ts";
import { ASSUMED } from "../text/reasons.ts";
import { chamberLevelsM } from "./filter.ts";

/** @param waterM3 water in the system while running */
export function hosesOf(
  s: Scenario,
  rig: Pick<Rig, "displays" | "sump">,
  surfaceZ: Readonly<Record<string, number>>,
  waterM3: number,
  notes: Notes,
): HosePlan | null {
  const { hose } = s;
  if (hose === "none") return null;
  const vessel = notes.or(hose.in, "hose.in", rig.displays[0]!.id, rig.displays[0]!.id, "the first tank");
  const display = rig.displays.find(({ id }) => id === vessel);
  const topZ = display ? surfaceZ[vessel]! : chamberLevelsM(rig.sump)[vessel]!;
  const half = (topZ - (display?.bottomZ ?? 0)) / 2;
  const depth = notes.or(hose.depth, "hose.depth", half, format.length(half), `${ASSUMED}: half the water's depth`);
  return {
    vessel,
    changeM3: hose.amount * waterM3,
    endZ: topZ - depth,
    out:
      hose.pump === undefined ? { boreM: hose.bore, lengthM: hose.length, downToZ: hose["down to"] } : { pumpM3PerS: hose.pump },
    fillM3PerS: hose.fill,
    returnRuns: hose.return === "running",
  };
}
