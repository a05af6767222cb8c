// Places of the upper parts: displays with their overflows and drains.
import type { Display, Drain, Overflow } from "../../models/rig.ts";
import {
  type Box,
  type FallPlace,
  midOf,
  type OverflowPlace,
  type PipePlace,
  type Point,
  type TowerPlace,
  widthOf,
} from "./places.ts";

/** Gap between neighbouring parts [m]. */
const GAP_M = 0.03;
export const MIN_BOX_M = 0.07;

/** Distance of a standpipe from the end wall [m]. */
const STANDPIPE_M = 0.06;

/** Bounding box of the standpipes in the tank, up to their mouth. */
function placeStandpipe(display: Display, inside: Box, overflow: Overflow, index: number): OverflowPlace {
  const half = MIN_BOX_M / 2 + 0.02 * (overflow.drains.length - 1);
  const mid = index % 2 === 1 ? inside.x1 - STANDPIPE_M - half : inside.x0 + STANDPIPE_M + half;
  const box = { x0: mid - half, x1: mid + half, z0: display.bottomZ, z1: overflow.crestZ };
  return { overflow, inside: box, crest: { x: mid, z: overflow.crestZ }, hung: false };
}

export function placeOverflow(display: Display, inside: Box, overflow: Overflow, index: number): OverflowPlace {
  if (overflow.kind === "standpipe") return placeStandpipe(display, inside, overflow, index);
  const hung = overflow.kind === "hang-on";
  const depth = Math.max(0.1, Math.min(overflow.weirLengthM, display.widthM));
  const wide = Math.max(MIN_BOX_M, Math.min(overflow.box.planAreaM2 / depth, inside.x1 - inside.x0 > 0.5 ? 0.25 : 0.14));
  const z0 = overflow.box.floorZ;
  const z1 = hung ? z0 + overflow.box.depthM : overflow.crestZ;
  // The first is at the left end, the second at the right end, further ones between them.
  const right = index % 2 === 1;
  const step = Math.floor(index / 2) * (wide + GAP_M);
  const outside = display.glassM + GAP_M;
  const x0 = right
    ? hung
      ? inside.x1 + outside + step
      : inside.x1 - wide - step
    : hung
      ? inside.x0 - outside - wide - step
      : inside.x0 + step;
  const box = { x0, x1: x0 + wide, z0: Math.max(z0, hung ? -1e9 : display.bottomZ), z1 };
  const crestX = hung ? (right ? inside.x1 - MIN_BOX_M : inside.x0 + MIN_BOX_M) : right ? box.x0 : box.x1;
  return { overflow, inside: box, crest: { x: crestX, z: overflow.crestZ }, hung };
}

/** A chamber, or a tank joined to the sump. */
interface Receiver {
  readonly chamber: { readonly id: string };
  readonly box: Box;
}

function drainTarget(drain: Drain, towers: readonly TowerPlace[], chambers: readonly Receiver[]): Point {
  const tower = towers.find((t) => t.tower.id === drain.to);
  if (tower) return [tower.inlet[0], Math.max(tower.inlet[1], drain.outletZ)];
  const chamber = chambers.find((c) => c.chamber.id === drain.to) ?? chambers[0]!;
  return [midOf(chamber.box), drain.outletZ];
}

/** Siphon tubes of a hang-on box, over the wall and down into the box. */
export function placeTubes(o: OverflowPlace, display: Box): readonly PipePlace[] {
  const { siphon } = o.overflow;
  if (!o.hung || !siphon) return [];
  const toward = o.crest.x < midOf(display) ? -1 : 1;
  const inX = o.crest.x + toward * MIN_BOX_M * 0.45;
  const outX = toward < 0 ? o.inside.x1 - 0.02 : o.inside.x0 + 0.02;
  return [
    {
      id: `tubes ${o.overflow.id}`,
      kind: "siphon",
      label: "siphon tube",
      boreM: siphon.boreM,
      points: [
        [inX, siphon.inletZ],
        [inX, siphon.crownZ],
        [outX, siphon.crownZ],
        [outX, siphon.outletZ],
      ],
    },
  ];
}

/** Water over the weir, down to the floor of the box or over a short distance. */
export function placeWeirFall(o: OverflowPlace, display: Display, inside: Box): FallPlace {
  const toward = o.crest.x < midOf(inside) ? -1 : 1;
  const dropZ = o.hung ? o.inside.z0 : o.crest.z - 0.004;
  return {
    id: `${o.overflow.id}.weir`,
    from: display.id,
    to: o.overflow.id,
    points: [
      [o.crest.x - toward * 0.05, o.crest.z + 0.012],
      [o.crest.x, o.crest.z + 0.01],
      [o.crest.x + toward * 0.02, dropZ - 0.02],
      [o.crest.x + toward * 0.026, Math.max(o.inside.z0, dropZ - 0.14)],
    ],
  };
}

/** Drains side by side down to their tower or chamber, with their bend below the board. */
export function placeDrains(
  o: OverflowPlace,
  boardZ: number,
  towers: readonly TowerPlace[],
  chambers: readonly Receiver[],
): readonly PipePlace[] {
  const { drains } = o.overflow;
  const n = drains.length;
  const step = Math.min(0.04, (widthOf(o.inside) - 0.02) / n);
  return drains.map((drain, i) => {
    const aside = i - (n - 1) / 2;
    const x = midOf(o.inside) + aside * Math.max(drain.boreM * 1.35, step);
    const target = drainTarget(drain, towers, chambers);
    const targetX = target[0] + aside * 0.035;
    const bendZ = boardZ - 0.02 - i * 0.03;
    const slopeZ = Math.max(target[1] + 0.03, bendZ - Math.abs(targetX - x) * 0.5);
    return {
      id: drain.id,
      kind: "drain",
      label: drain.kind === "open" ? "drain" : drain.kind,
      boreM: drain.boreM,
      points: [
        [x, o.inside.z0 + drain.inletM],
        [x, Math.max(slopeZ, bendZ)],
        [targetX, Math.min(slopeZ, bendZ)],
        [targetX, target[1]],
      ],
    };
  });
}
