// Pipes under pressure: the return up to its nozzles, its branches, and the hoses of closed filters.
import type { Rig } from "../../models/rig.ts";
import { type Box, type ClosedPlace, type DisplayPlace, midOf, type NozzlePlace, type PipePlace, type Point } from "./places.ts";

const CLEAR_M = 0.05;
const HOSE_M = 0.016;

export interface Returns {
  readonly nozzles: readonly NozzlePlace[];
  readonly pipes: readonly PipePlace[];
}

/** From the pump up past the display's end wall, over its rim and down to each nozzle. */
export function placeReturns(rig: Rig, { display, inside }: DisplayPlace, pump: Box, manifoldZ: number): Returns {
  const nozzles: NozzlePlace[] = [];
  const pipes: PipePlace[] = [];
  rig.return.nozzles
    .filter((nozzle) => nozzle.display === display.id)
    .forEach((nozzle, i) => {
      const inX = inside.x1 - 0.06 - i * 0.09;
      const upX = inside.x1 + display.glassM + CLEAR_M + i * 0.035;
      const overZ = inside.z1 + 0.045 + i * 0.05;
      const points: Point[] = [
        [midOf(pump), pump.z1],
        [midOf(pump), manifoldZ],
        [upX, manifoldZ],
        [upX, overZ],
        [inX, overZ],
        [inX, nozzle.tipZ],
      ];
      if (nozzle.jet === "fanned") points.push([inX - 0.035, nozzle.tipZ]);
      pipes.push({ id: nozzle.id, kind: "riser", label: "return", boreM: rig.return.riser.boreM, points });
      nozzles.push({ id: nozzle.id, x: inX, tipZ: nozzle.tipZ, hole: nozzle.breakHole ? [inX, nozzle.breakHole.z] : null });
    });
  return { nozzles, pipes };
}

/** Branches leave the riser over the sump and end in their chamber. */
export const placeBranches = (rig: Rig, pump: Box, manifoldZ: number, chamberOf: (id: string) => Box): readonly PipePlace[] =>
  rig.return.branches.map((branch, i) => {
    const z = Math.max(rig.sump.heightM + CLEAR_M, manifoldZ - 0.08 - i * 0.04);
    const x = midOf(chamberOf(branch.to));
    return {
      id: branch.id,
      kind: "branch",
      label: "branch",
      boreM: branch.boreM,
      points: [
        [midOf(pump), z],
        [x, z],
        [x, branch.outletZ],
      ],
    };
  });

export const hoseIds = (filterId: string): readonly [intake: string, outlet: string] => [
  `intake ${filterId}`,
  `outlet ${filterId}`,
];

/** Two hoses from the lid of a closed filter over the rim of the vessel it draws from, the intake as deep as it really is. */
export function placeHoses({ filter, box }: ClosedPlace, vessel: Box, surfaceZ: number, besideX: number): readonly PipePlace[] {
  const [intake, outlet] = hoseIds(filter.id);
  const hose = (id: string, label: string, at: number, aside: number, inX: number, endZ: number): PipePlace => ({
    id,
    kind: "hose",
    label,
    boreM: HOSE_M,
    points: [
      [at, box.z1],
      [at, box.z1 + 0.03 + aside],
      [besideX + aside, box.z1 + 0.03 + aside],
      [besideX + aside, vessel.z1 + 0.02 + aside],
      [inX, vessel.z1 + 0.02 + aside],
      [inX, endZ],
    ],
  });
  const [near, far] = [vessel.x1 - 0.17, vessel.x1 - 0.22];
  const down = hose(
    intake,
    "intake of the closed filter",
    box.x0 + (box.x1 - box.x0) * 0.3,
    0.03,
    far,
    surfaceZ - filter.intakeDepthM,
  );
  const up = hose(outlet, "outlet of the closed filter", box.x0 + (box.x1 - box.x0) * 0.7, 0, near, surfaceZ - 0.02);
  // Both are told in the direction in which the water runs.
  return [{ ...down, points: [...down.points].reverse() }, up];
}
