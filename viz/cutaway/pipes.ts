// Pipes under pressure: the return up to its nozzles, and the hoses of closed filters.
import type { Rig } from "../../models/rig.ts";
import { type Box, type ClosedPlace, type DisplayPlace, midOf, type NozzlePlace, type PipePlace, type Point } from "./places.ts";

const CLEAR_M = 0.05;
const UNDER_M = 0.035;
const HOSE_M = 0.016;

export interface Returns {
  readonly nozzles: readonly NozzlePlace[];
  readonly pipes: readonly PipePlace[];
}

/** From the pump up past the display's end wall, over its rim and down to each nozzle. */
export function placeReturns(rig: Rig, { display, inside }: DisplayPlace, pumps: readonly Box[], manifoldZ: number): Returns {
  const nozzles: NozzlePlace[] = [];
  const pipes: PipePlace[] = [];
  [rig.return, ...rig.moreReturns]
    // Lines of several pumps run one under the other, so that they do not look joined.
    .flatMap((line, k) => line.nozzles.map((nozzle) => ({ nozzle, line, pump: pumps[k]!, acrossZ: manifoldZ - k * UNDER_M })))
    .filter(({ nozzle }) => nozzle.display === display.id)
    .forEach(({ nozzle, line, pump, acrossZ }, i) => {
      const inX = inside.x1 - 0.06 - i * 0.09;
      const firstX = inside.x1 + display.glassM + CLEAR_M;
      const upX = firstX + i * 0.035;
      const overZ = inside.z1 + 0.045 + i * 0.05;
      const { branch } = nozzle;
      // Branches leave the riser at their tees: above the rim they run horizontally, below it they rise beside the riser.
      const rise: readonly Point[] =
        !branch || branch.teeZ < acrossZ
          ? [
              [upX, acrossZ],
              [upX, overZ],
              [inX, overZ],
            ]
          : branch.teeZ > inside.z1
            ? [
                [firstX, acrossZ],
                [firstX, branch.teeZ],
                [inX, branch.teeZ],
              ]
            : [
                [firstX, acrossZ],
                [firstX, branch.teeZ],
                [upX + 0.035, branch.teeZ],
                [upX + 0.035, overZ],
                [inX, overZ],
              ];
      const points: Point[] = [[midOf(pump), pump.z1], [midOf(pump), acrossZ], ...rise, [inX, nozzle.tipZ]];
      if (nozzle.jet === "fanned") points.push([inX - 0.035, nozzle.tipZ]);
      pipes.push({ id: nozzle.id, kind: "riser", label: "return", boreM: (branch ?? line.riser).boreM, points });
      nozzles.push({ id: nozzle.id, x: inX, tipZ: nozzle.tipZ, hole: nozzle.breakHole ? [inX, nozzle.breakHole.z] : null });
    });
  return { nozzles, pipes };
}

export const hoseIds = (filterId: string): readonly [intake: string, outlet: string] => [
  `intake ${filterId}`,
  `outlet ${filterId}`,
];

/** Two hoses from the lid of a closed filter over the rim of its source vessel, with the intake at its real depth. */
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
  // Both are in the direction of flow.
  return [{ ...down, points: [...down.points].reverse() }, up];
}
