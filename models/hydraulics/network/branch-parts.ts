// Side branches of the return as vessels and links: a plain pipe, or a reactor, skimmer or steriliser with its outlet.

import type { BranchBody, ReturnBranch } from "../../rig.ts";
import { ENTRANCE_FLUSH, EXIT, obstructionK } from "../laws/fittings.ts";
import { levelCurve } from "../laws/level-curve.ts";
import type { Pipe } from "../laws/pipe.ts";
import { type Assembly, receiver } from "./assembly.ts";
import type { Branch } from "./network.ts";

/**
 * Plan area of the hose over a closed body, as a share of the body (modelling assumption). Water rises in it until it
 * runs off; a narrower one only makes the solver take smaller steps.
 */
const HOSE_SHARE = 1 / 40;
/** Height to which the hose over a closed body can fill: more than any pump here lifts [m]. */
const HOSE_TOP_M = 100;
/** Smallest height of an opening over the floor of its body [m]. */
const LOWEST_M = 0.002;

/** Id of the vessel of a branch's body. */
export const bodyId = (branchId: string): string => `${branchId} body`;

/**
 * Adds a branch. Air reaches a closed body through its outlet as soon as that runs empty, so that its water can run back
 * like that of an open one (modelling assumption, the conservative side: a body that stays under suction keeps it).
 */
export function addBranch(parts: Assembly, branch: ReturnBranch, source: number, roughnessM: number): Branch {
  const pipe: Pipe = {
    boreM: branch.boreM,
    lengthM: branch.lengthM,
    roughnessM,
    lossK: branch.k + obstructionK(branch.valveOpenShare),
  };
  const { body } = branch;
  const to = body ? addBody(parts, branch, body, roughnessM) : receiver(parts, branch.to);
  const link = parts.link({ kind: "return", id: `branch ${branch.id}`, name: `branch ${branch.id}`, from: source, to });
  const outletZ = body ? body.floorZ + Math.max(LOWEST_M, body.inletM) : branch.outletZ;
  return { pipe, outletZ, to, runsBack: body !== null, link };
}

/** The body, its outlet, and its rim or lid. It belongs to the water of the chamber that it drains into. */
function addBody(parts: Assembly, { id, to, outletZ }: ReturnBranch, body: BranchBody, roughnessM: number): number {
  const chamber = receiver(parts, to);
  const { planM2, heightM, floorZ, lid } = body;
  const hose = { fromM: heightM, toM: heightM + HOSE_TOP_M, areaM2: planM2 * (1 - HOSE_SHARE) };
  const curve = levelCurve(floorZ, planM2, lid === "closed" ? [hose] : []);
  const topZ = floorZ + heightM;
  const name = `the body of ${id}`;
  const place = parts.vessel("reactor", bodyId(id), name, to, curve, planM2, lid === "open" ? topZ : null);
  if (body.outletOpenShare > 0) {
    const end = { boreM: body.outletBoreM, lengthM: body.outletLengthM, roughnessM };
    parts.link({
      kind: "overflow pipe",
      id: `outlet of ${id}`,
      name: `out of ${id}`,
      from: place,
      to: chamber,
      pipe: { ...end, lossK: ENTRANCE_FLUSH + EXIT + obstructionK(body.outletOpenShare) },
      mouthZ: floorZ + Math.max(LOWEST_M, body.mouthM),
      outletZ,
    });
  }
  const outside = body.stands === "in the sump" ? chamber : parts.place("floor");
  if (lid === "open") parts.rim(place, outside, 2 * Math.sqrt(Math.PI * planM2));
  else if (body.leakM2 > 0)
    parts.link({
      kind: "hole",
      id: `lid of ${id}`,
      name: `leaking lid of ${id}`,
      from: place,
      to: outside,
      areaM2: body.leakM2,
      z: topZ,
    });
  return place;
}

/** Room that a body takes in the chamber it stands in: its outside is taken as its inside (modelling assumption). */
export const standsIn = (branch: ReturnBranch, chamberId: string) =>
  branch.body?.stands === "in the sump" && branch.to === chamberId
    ? [{ fromM: branch.body.floorZ, toM: branch.body.floorZ + branch.body.heightM, areaM2: branch.body.planM2 }]
    : [];
