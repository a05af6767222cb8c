// Common names of the parts of a rig, as findings say them.

import { bodyId } from "../../models/hydraulics/network/branch-parts.ts";
import { type Rig, returnLines } from "../../models/rig.ts";

/** Common name of the part of the rig to which a vessel belongs. */
export function partName(rig: Rig, vesselId: string): string {
  const [kind, ...rest] = vesselId.split(":");
  const id = rest.join(":");
  const display = rig.displays.find((candidate) => candidate.id === vesselId || candidate.id === id);
  if (display) return tankName(rig, display.id);
  if (rig.sump.chambers.some((chamber) => chamber.id === vesselId || chamber.id === id)) return "the sump";
  const branch = returnLines(rig)
    .flatMap(({ branches }) => branches)
    .find((each) => each.body && vesselId === bodyId(each.id));
  if (branch) return branch.id;
  return rig.towers.some((tower) => vesselId.includes(tower.id))
    ? "the tower"
    : kind.includes("box")
      ? "the overflow box"
      : "the overflow";
}

export const tankName = (rig: Rig, id: string): string => (rig.displays.length > 1 ? id : "the tank");
