// A tower as vessels and links: prefilter pan, drip tray, films on the media.

import type { Prefilter, Tower } from "../../rig.ts";
import { boreAreaM2 } from "../laws/pipe.ts";
import type { Assembly } from "./assembly.ts";

/** Height above a prefilter pad at which it spills [m] (modelling assumption). */
const PAD_FREEBOARD_M = 0.05;
/** Clearance between stacked parts of a tower [m] (modelling assumption). */
const STACK_GAP_M = 0.02;
/**
 * Hydraulic conductivity of a clean pad by grade, as the velocity under a head of its own depth [m/s] (modelling
 * assumption; coarse foam, floss, fine felt).
 */
const PAD_CONDUCTIVITY_M_PER_S = { coarse: 0.1, medium: 0.04, fine: 0.015 } as const;

/** Adds a tower above an existing sump chamber. */
export function addTower(parts: Assembly, tower: Tower, floor: number): void {
  const plan = tower.lengthM * tower.widthM;
  const around = 2 * (tower.lengthM + tower.widthM);
  const top = tower.grateZ + tower.mediaDepthM;
  const chamber = parts.place(tower.drainsTo);
  const media = parts.box("media", `${tower.id} media`, `water on the media of ${tower.id}`, tower.id, tower.grateZ, plan, null);
  const trayBottom = top + STACK_GAP_M;
  const trayRim = trayBottom + tower.tray.depthM;
  const tray = parts.box("tray", `${tower.id} tray`, `the drip tray of ${tower.id}`, tower.id, trayBottom, plan, trayRim);
  const holes = tower.tray.holes * boreAreaM2(tower.tray.holeDiameterM);
  parts.link({
    kind: "hole",
    id: `${tower.id} plate`,
    name: `drip holes of ${tower.id}`,
    from: tray,
    to: media,
    areaM2: holes,
    z: trayBottom,
  });
  parts.rim(tray, tower.tray.spillsTo === "floor" ? floor : chamber, around);
  parts.link({
    kind: "film",
    id: `${tower.id} film`,
    name: `films down the media of ${tower.id}`,
    from: media,
    to: chamber,
    planM2: plan,
    depthM: tower.mediaDepthM,
    specificSurfacePerM: tower.media.specificSurfaceM2PerM3,
  });
  if (tower.prefilter) addPrefilter(parts, tower, tower.prefilter, { tray, chamber, floor }, trayRim + STACK_GAP_M);
}

function addPrefilter(
  parts: Assembly,
  tower: Tower,
  pad: Prefilter,
  to: { tray: number; chamber: number; floor: number },
  bottomZ: number,
): void {
  const rim = bottomZ + pad.thicknessM + PAD_FREEBOARD_M;
  const pan = parts.box("prefilter", `${tower.id} prefilter`, `the prefilter of ${tower.id}`, tower.id, bottomZ, pad.areaM2, rim);
  const open = Math.max(0, 1 - pad.blindedShare);
  const conductanceM2PerS = (PAD_CONDUCTIVITY_M_PER_S[pad.grade] * pad.areaM2 * open) / pad.thicknessM;
  parts.link({
    kind: "pad",
    id: `${tower.id} pad`,
    name: `through the prefilter of ${tower.id}`,
    from: pan,
    to: to.tray,
    conductanceM2PerS,
  });
  const spill = pad.spillsTo === "media" ? to.tray : pad.spillsTo === "floor" ? to.floor : to.chamber;
  parts.rim(pan, spill, 4 * Math.sqrt(pad.areaM2));
}
