// Places of the lower parts: sump chambers with baffles, towers, pump, reservoir, and closed filters on the floor.

import type { ClosedFilter, Rig, Tower } from "../../models/rig.ts";
import { pow } from "../../sim/elementary.ts";
import {
  type BafflePlace,
  type Box,
  type ChamberPlace,
  type ClosedPlace,
  type FallPlace,
  midOf,
  type TowerPlace,
  widthOf,
} from "./places.ts";

export function placeChambers(rig: Rig, sumpX0: number): { chambers: ChamberPlace[]; baffles: BafflePlace[] } {
  const { sump } = rig;
  const plates = sump.baffles.length;
  const sum = sump.chambers.reduce((total, c) => total + c.lengthM, 0);
  const plateM = plates === 0 ? 0 : Math.min(0.012, Math.max(0.005, (sump.lengthM - sum) / plates));
  const scale = (sump.lengthM - plates * plateM) / sum;
  const chambers: ChamberPlace[] = [];
  const baffles: BafflePlace[] = [];
  let x = sumpX0;
  sump.chambers.forEach((chamber, i) => {
    const x1 = x + chamber.lengthM * scale;
    chambers.push({ chamber, box: { x0: x, x1, z0: 0, z1: sump.heightM } });
    const baffle = sump.baffles[i];
    if (baffle) {
      const z0 = baffle.kind === "over" ? 0 : baffle.gapM;
      baffles.push({ box: { x0: x1, x1: x1 + plateM, z0, z1: Math.max(baffle.topM, z0 + 0.01) }, kind: baffle.kind });
    }
    x = x1 + plateM;
  });
  return { chambers, baffles };
}

/** Air gaps between media, tray and pad, and wall above the pad, as in the hydraulic model [m]. */
const STACK_M = 0.02;

export function placeTower(tower: Tower, chamber: Box, sump: Box): TowerPlace {
  const x0 = Math.max(sump.x0 + 0.004, Math.min(midOf(chamber) - tower.lengthM / 2, sump.x1 - tower.lengthM));
  const x1 = x0 + tower.lengthM;
  const mediaTop = tower.grateZ + tower.mediaDepthM;
  const trayZ = mediaTop + STACK_M;
  const tray = { x0, x1, z0: trayZ, z1: trayZ + tower.tray.depthM };
  const padZ = tray.z1 + STACK_M;
  const pad = tower.prefilter ? { x0: x0 + 0.006, x1: x1 - 0.006, z0: padZ, z1: padZ + tower.prefilter.thicknessM } : null;
  const top = (pad?.z1 ?? tray.z1) + STACK_M;
  return {
    tower,
    media: { x0, x1, z0: tower.grateZ, z1: mediaTop },
    tray,
    pad,
    shell: { x0: x0 - 0.004, x1: x1 + 0.004, z0: tower.grateZ - 0.01, z1: top },
    inlet: [midOf(tray), top],
  };
}

/** The pump is at the end wall of the last chamber, with its intake at the given height. */
export function placePump(rig: Rig, chamber: Box): Box {
  const wide = Math.min(0.11, widthOf(chamber) * 0.55);
  const x = chamber.x1 - wide / 2 - Math.min(0.03, widthOf(chamber) * 0.12);
  return { x0: x - wide / 2, x1: x + wide / 2, z0: 0.006, z1: Math.max(0.05, Math.min(0.11, rig.return.pump.intakeM * 0.95)) };
}

/** The rig gives only the volume of a reservoir; it is drawn nearly as high and as wide as the sump. */
export function placeReservoir(rig: Rig, x0: number): Box | null {
  if (!rig.topOff) return null;
  const high = Math.min(0.35, Math.max(0.15, rig.sump.heightM * 0.85));
  const long = Math.max(0.06, rig.topOff.reservoirM3 / (high * Math.max(0.12, rig.sump.widthM * 0.8)));
  return { x0, x1: x0 + long, z0: 0, z1: high };
}

/** Ratio of height to width of a closed filter; the rig gives only its water and media volume. Its plan is square. */
const TALL = 1.5;

/** Closed filters side by side on the floor from `x0` on. */
export function placeClosed(filters: readonly ClosedFilter[], x0: number, floorZ: number): readonly ClosedPlace[] {
  let x = x0;
  return filters.map((filter) => {
    const volume = filter.waterM3 + filter.media.volumeM3 * (1 - filter.media.voidShare);
    const wide = pow(volume / TALL, 1 / 3);
    const box = { x0: x, x1: x + wide, z0: floorZ, z1: floorZ + TALL * wide };
    x = box.x1 + 0.06;
    return { filter, box };
  });
}

/** Flows at the baffles between chambers: over them, under them, or both. */
export function placeBaffleFalls(chambers: readonly ChamberPlace[], baffles: readonly BafflePlace[]): readonly FallPlace[] {
  return baffles.flatMap((baffle, i) => {
    const [from, to] = [chambers[i], chambers[i + 1]];
    if (!from || !to) return [];
    const under = baffle.kind === "under";
    const z = under ? baffle.box.z0 / 2 : baffle.box.z1 + 0.01;
    return [
      {
        id: `${from.chamber.id}>${to.chamber.id}`,
        from: from.chamber.id,
        to: to.chamber.id,
        points: [
          [baffle.box.x0 - 0.05, z],
          [baffle.box.x1, z],
          [baffle.box.x1 + 0.05, under ? z : z - 0.04],
        ],
      },
    ];
  });
}

/** Water that drips out of a tower. */
export const placeRain = ({ tower, media }: TowerPlace, chamber: Box): FallPlace => ({
  id: `${tower.id}.rain`,
  from: tower.id,
  to: tower.drainsTo,
  points: [
    [midOf(media), media.z0 - 0.012],
    [Math.min(chamber.x1, Math.max(chamber.x0, midOf(media))), Math.max(0, media.z0 - 0.2)],
  ],
});
