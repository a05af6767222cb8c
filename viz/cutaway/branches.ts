// Side branches of the return, with the reactors, skimmers and sterilisers on them.
import { bodyId } from "../../models/hydraulics/network/branch-parts.ts";
import { type ReturnBranch, type Rig, returnLines } from "../../models/rig.ts";
import { type Box, midOf, type PipePlace, type Point, type ReactorPlace, type TowerPlace, type VesselPlace } from "./places.ts";

/** Size of the device of a branch that is described only by its pipe [m]. */
const PLAIN = { wideM: 0.11, highM: 0.32 } as const;
const GAP_M = 0.08;
const CLEAR_M = 0.05;

/** Every branch with the index of its pump. */
const branchesOf = (rig: Rig): readonly { readonly branch: ReturnBranch; readonly pump: number }[] =>
  returnLines(rig).flatMap(({ branches }, pump) => branches.map((branch) => ({ branch, pump })));

/** Diameter of a round body [m]. */
const wideOf = ({ body }: ReturnBranch): number => (body ? Math.sqrt((4 * body.planM2) / Math.PI) : PLAIN.wideM);

/** Bodies side by side on the floor from `x0` on; one that stands in the sump, in its chamber. */
export function placeReactors(rig: Rig, x0: number, floorZ: number, chamberOf: (id: string) => Box): readonly ReactorPlace[] {
  let x = x0;
  return branchesOf(rig).map(({ branch }): ReactorPlace => {
    const { id, body, to } = branch;
    const wide = wideOf(branch);
    const own = body ? { z0: body.floorZ, z1: body.floorZ + body.heightM } : { z0: floorZ, z1: floorZ + PLAIN.highM };
    if (body?.stands === "in the sump") {
      const chamber = chamberOf(to);
      const left = Math.max(chamber.x0 + 0.01, Math.min(chamber.x0 + 0.03, chamber.x1 - wide - 0.01));
      return { id, body, inSump: true, box: { x0: left, x1: left + wide, ...own } };
    }
    const left = x;
    x += wide + GAP_M;
    return { id, body, inSump: false, box: { x0: left, x1: left + wide, ...own } };
  });
}

/** The water of each body. */
export const reactorVessels = (reactors: readonly ReactorPlace[]): readonly VesselPlace[] =>
  reactors.flatMap(({ id, body, box }) => (body ? [{ id: bodyId(id), kind: "reactor" as const, name: id, box }] : []));

/** Position above a chamber without a tower over it, as close to its middle as possible; the middle if there is none. */
function clearX(chamber: Box, towers: readonly TowerPlace[]): number {
  const mid = midOf(chamber);
  const places = Array.from({ length: 11 }, (_, i) => chamber.x0 + ((chamber.x1 - chamber.x0) * (i + 0.5)) / 11);
  const clear = places.filter((x) => !towers.some((t) => x > t.shell.x0 - 0.02 && x < t.shell.x1 + 0.02));
  return clear.sort((a, b) => Math.abs(a - mid) - Math.abs(b - mid))[0] ?? mid;
}

/** A branch leaves the riser over the sump, runs through its body and ends in its chamber. */
export const placeBranches = (
  rig: Rig,
  pumps: readonly Box[],
  reactors: readonly ReactorPlace[],
  towers: readonly TowerPlace[],
  chamberOf: (id: string) => Box,
): readonly PipePlace[] =>
  branchesOf(rig).flatMap(({ branch, pump }, i): readonly PipePlace[] => {
    const { box } = reactors[i]!;
    const { body, id, boreM, outletZ } = branch;
    const side = Math.min(0.03, (box.x1 - box.x0) / 4);
    const [left, right] = [box.x0 + side, box.x1 - side];
    const inZ = Math.max(rig.sump.heightM, reactors[i]!.inSump ? box.z1 : 0) + CLEAR_M + i * 0.06;
    const outZ = inZ + 0.03;
    const from: readonly Point[] = [
      [midOf(pumps[pump]!), inZ],
      [left, inZ],
    ];
    const x = clearX(chamberOf(branch.to), towers);
    const away: readonly Point[] = [
      [right, outZ],
      [x, outZ],
      [x, outletZ],
    ];
    if (!body) {
      const z = box.z1 - 0.01;
      return [{ id, kind: "branch", label: "branch", boreM, points: [...from, [left, z], [right, z], ...away] }];
    }
    const mouthZ = box.z0 + body.mouthM;
    // The outlet of an open body falls through its wall; that of a closed one leaves through its lid.
    const falls = body.lid === "open" && outletZ < mouthZ;
    const endX = Math.min(x, box.x0 - 0.02);
    const out: readonly Point[] = falls
      ? [
          [left + side, mouthZ],
          [endX, mouthZ],
          [endX, outletZ],
        ]
      : [[right, mouthZ], ...away];
    return [
      { id: `branch ${id}`, kind: "branch", label: "branch", boreM, points: [...from, [left, box.z0 + body.inletM]] },
      { id: `outlet of ${id}`, kind: "branch", label: "outlet of the branch", boreM: body.outletBoreM, points: out },
    ];
  });
